package graphviz

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image/png"
	"math"

	"github.com/fogleman/gg"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"

	"dryfit/graphviz/fonts"
	"dryfit/graphviz/svg"
)

// pngScale is pixels per point: 200 per inch, so that the smallest text of a full sheet can
// be read.
const pngScale = 200.0 / 72

// pngCanvas paints pixels.
type pngCanvas struct {
	dc    *gg.Context
	faces map[faceKey]font.Face
	err   error
}

type faceKey struct {
	bold, italic bool
	size         float64
}

func pngImage(d *drawing) ([]byte, error) {
	w, h := math.Round(sheetWidth*pngScale), math.Round(sheetHeight*pngScale)
	c := &pngCanvas{dc: gg.NewContext(int(w), int(h)), faces: map[faceKey]font.Face{}}
	c.dc.SetHexColor("#ffffff")
	c.dc.Clear()
	d.paint(c, onSheet(d))
	if c.err != nil {
		return nil, c.err
	}
	var out bytes.Buffer
	if err := png.Encode(&out, c.dc.Image()); err != nil {
		return nil, err
	}
	return withSoftware(out.Bytes()), nil
}

// The start of a PNG: signature and header, then the length and content of the text chunk
// that names the program.
const (
	pngSignature = "\x89PNG\r\n\x1a\n"
	pngHeader    = len(pngSignature) + 25
	pngSoftware  = "tEXtSoftware\x00" + svg.Mark
)

// withSoftware adds a text chunk after the header that names the program (PNG
// specification, section 11.3.4.3).
func withSoftware(file []byte) []byte {
	body := []byte(pngSoftware)
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(body)-4))
	chunk = append(chunk, body...)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(body))
	return append(append(append([]byte(nil), file[:pngHeader]...), chunk...), file[pngHeader:]...)
}

func (c *pngCanvas) set(s pen) {
	c.dc.SetHexColor(s.colour)
	c.dc.SetLineWidth(s.line * pngScale)
	if s.dash {
		c.dc.SetDash(4*pngScale, 2*pngScale)
	} else {
		c.dc.SetDash()
	}
}

// finish fills and strokes the current path.
func (c *pngCanvas) finish(s pen) {
	if s.filled {
		c.dc.SetHexColor(s.fill)
		c.dc.FillPreserve()
	}
	c.set(s)
	c.dc.Stroke()
}

func (c *pngCanvas) trace(p [][2]float64) {
	for i, q := range p {
		if i == 0 {
			c.dc.MoveTo(q[0]*pngScale, q[1]*pngScale)
		} else {
			c.dc.LineTo(q[0]*pngScale, q[1]*pngScale)
		}
	}
}

func (c *pngCanvas) polygon(p [][2]float64, s pen) {
	c.trace(p)
	c.dc.ClosePath()
	c.finish(s)
}

func (c *pngCanvas) polyline(p [][2]float64, s pen) {
	s.filled = false
	c.trace(p)
	c.finish(s)
}

func (c *pngCanvas) bezier(p [][2]float64, s pen) {
	c.dc.MoveTo(p[0][0]*pngScale, p[0][1]*pngScale)
	for i := 1; i+2 < len(p); i += 3 {
		c.dc.CubicTo(p[i][0]*pngScale, p[i][1]*pngScale, p[i+1][0]*pngScale, p[i+1][1]*pngScale, p[i+2][0]*pngScale, p[i+2][1]*pngScale)
	}
	c.finish(s)
}

func (c *pngCanvas) ellipse(cx, cy, rx, ry float64, s pen) {
	c.dc.DrawEllipse(cx*pngScale, cy*pngScale, rx*pngScale, ry*pngScale)
	c.finish(s)
}

func (c *pngCanvas) text(x, y, width float64, anchor, text string, s pen) {
	face, err := c.face(s)
	if err != nil {
		c.err = err
		return
	}
	c.dc.SetFontFace(face)
	c.dc.SetHexColor(s.colour)
	along := map[string]float64{"start": 0, "middle": 0.5, "end": 1}[anchor]
	c.dc.DrawStringAnchored(text, x*pngScale, y*pngScale, along, 0)
}

func (c *pngCanvas) face(s pen) (font.Face, error) {
	key := faceKey{s.bold, s.italic, s.size}
	if f := c.faces[key]; f != nil {
		return f, nil
	}
	parsed, err := opentype.Parse(fonts.Sans(s.bold, s.italic))
	if err != nil {
		return nil, err
	}
	f, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: s.size * pngScale, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		return nil, err
	}
	c.faces[key] = f
	return f, nil
}
