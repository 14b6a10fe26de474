package document

import (
	"bytes"
	"crypto/sha256"
	"encoding/gob"
	"fmt"
	"image"
	"image/draw"
	"image/png"

	"codeberg.org/go-pdf/fpdf"
)

// image paints a PNG. The same one is in the file once, however often it is painted.
func (c *canvas) image(data []byte, x, y, w, h float64) {
	name := fmt.Sprintf("%x", sha256.Sum256(data))
	options := fpdf.ImageOptions{ImageType: "png", AllowNegativePosition: true}
	if !c.images[name] {
		if err := c.register(name, options, data); err != nil {
			c.fail(fmt.Errorf("a picture of the document is no PNG that can be used: %w", err))
			return
		}
	}
	c.pdf.ImageOptions(name, x, y, w, h, false, options, 0, "")
}

func (c *canvas) fail(err error) {
	if c.err == nil {
		c.err = err
	}
}

// register hands a PNG to the library, which panics if the file is cut short.
func (c *canvas) register(name string, options fpdf.ImageOptions, data []byte) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%v", r)
		}
	}()
	if data, err = plainPNG(data); err != nil {
		return err
	}
	info := c.pdf.RegisterImageOptionsReader(name, options, bytes.NewReader(data))
	if err := c.pdf.Error(); err != nil {
		return err
	}
	c.images[name] = true
	return rank(info, len(c.images))
}

// rank makes an image wider by a millionth of a pixel for each that was there before.
// The library writes images in the sequence of their widths, and those of one width
// in a random one; in the file widths are whole.
func rank(info *fpdf.ImageInfoType, number int) error {
	old, err := info.GobEncode()
	if err != nil {
		return err
	}
	var data, mask, palette []byte
	var object, depth int
	var width, height, scale, dpi float64
	var space, filter, parameters string
	var clear []int
	dec := gob.NewDecoder(bytes.NewReader(old))
	for _, field := range []any{&data, &mask, &object, &width, &height, &space, &palette, &depth, &filter, &parameters, &clear, &scale, &dpi} {
		if err := dec.Decode(field); err != nil {
			return err
		}
	}
	width += float64(number) * 1e-6
	var b bytes.Buffer
	enc := gob.NewEncoder(&b)
	for _, field := range []any{data, mask, object, width, height, space, palette, depth, filter, parameters, clear, scale, dpi} {
		if err := enc.Encode(field); err != nil {
			return err
		}
	}
	return info.GobDecode(b.Bytes())
}

// plainPNG is a PNG as the library takes it: not interlaced, eight bits at most, all
// of it opaque. Others are painted on white.
func plainPNG(data []byte) ([]byte, error) {
	if _, err := png.DecodeConfig(bytes.NewReader(data)); err != nil {
		return nil, err
	}
	// Behind the signature, the name and length of the header, the width and the
	// height: depth, colour type and, two further, interlacing (PNG specification,
	// section 11.2.1). Grey is 0, colours are 2 and a palette is 3.
	depth, kind, interlaced := data[24], data[25], data[28] != 0
	start, _, _ := bytes.Cut(data, []byte("IDAT"))
	if depth <= 8 && kind <= 3 && !interlaced && !bytes.Contains(start, []byte("tRNS")) {
		return data, nil
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	on := image.NewRGBA(img.Bounds())
	draw.Draw(on, on.Bounds(), image.White, image.Point{}, draw.Src)
	draw.Draw(on, on.Bounds(), img, img.Bounds().Min, draw.Over)
	var b bytes.Buffer
	err = png.Encode(&b, on)
	return b.Bytes(), err
}
