package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"strconv"

	"github.com/fogleman/gg"
)

// maxLines is the largest number of line segments in a picture; with more it is
// smaller, and faster to show, as pixels.
const maxLines = 20000

// PixelsPerMM is the resolution of a pixel image: 300 dots per inch.
const PixelsPerMM = 300 / 25.4

// Lighten turns the marks so far into pixels if there are too many of them; marks
// added later stay as they are. tones are the colours of its areas besides black
// and white.
func (p *Picture) Lighten(tones ...string) {
	n := 0
	for _, m := range p.Marks {
		for _, l := range m.Paths {
			n += len(l)
		}
	}
	if n > maxLines {
		p.PNG = pixels(p, tones)
		p.Marks = nil
	}
}

// pixels paints lines and areas without text, as PNG.
func pixels(p *Picture, tones []string) []byte {
	w, h := int(math.Ceil(p.Width*PixelsPerMM)), int(math.Ceil(p.Height*PixelsPerMM))
	dc := gg.NewContext(w, h)
	dc.SetColor(color.White)
	dc.Clear()
	dc.SetFillRuleEvenOdd()
	dc.SetLineCapRound()
	dc.SetLineJoinRound()
	dc.Scale(float64(w)/p.Width, float64(h)/p.Height)
	for _, m := range p.Marks {
		paintMark(dc, &m)
	}
	var out bytes.Buffer
	e := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := e.Encode(&out, fewColours(dc.Image(), tones)); err != nil {
		panic(err) // writing to memory does not fail, and the image is not empty
	}
	return out.Bytes()
}

func paintMark(dc *gg.Context, m *Mark) {
	for _, l := range m.Paths {
		for i, q := range l {
			if i == 0 {
				dc.MoveTo(q[0], q[1])
			} else {
				dc.LineTo(q[0], q[1])
			}
		}
		if m.Closed {
			dc.ClosePath()
		}
	}
	if m.Fill != "" {
		dc.SetColor(parseColour(m.Fill))
		dc.FillPreserve()
	}
	if m.Stroke != "" {
		dc.SetColor(parseColour(m.Stroke))
		dc.SetLineWidth(m.Width * PixelsPerMM)
		dash := make([]float64, len(m.Dash))
		for i, d := range m.Dash {
			dash[i] = d * PixelsPerMM
		}
		dc.SetDash(dash...)
		dc.StrokePreserve()
	}
	dc.ClearPath()
}

func parseColour(hex string) color.RGBA {
	v, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil || len(hex) != 7 {
		return color.RGBA{A: 255}
	}
	return color.RGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}
}

// fewColours reduces an image to white, the tones, and their mixtures with black, which
// makes the file several times smaller.
func fewColours(src image.Image, tones []string) image.Image {
	var colours color.Palette
	for _, base := range append([]string{"#ffffff"}, tones...) {
		b := parseColour(base)
		for i := range 16 {
			k := func(c uint8) uint8 { return uint8(int(c) * (15 - i) / 15) }
			colours = append(colours, color.RGBA{k(b.R), k(b.G), k(b.B), 255})
		}
	}
	out := image.NewPaletted(src.Bounds(), colours)
	known := map[color.RGBA]uint8{}
	rgba := src.(*image.RGBA)
	for y := range rgba.Rect.Dy() {
		for x := range rgba.Rect.Dx() {
			c := rgba.RGBAAt(x, y)
			i, ok := known[c]
			if !ok {
				i = uint8(colours.Index(c))
				known[c] = i
			}
			out.SetColorIndex(x, y, i)
		}
	}
	return out
}
