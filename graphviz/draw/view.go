package draw

import (
	"math"

	"dryfit/kits/geom"
)

// View is a direction to look in, without perspective: parallel lines stay parallel, so
// that one scale holds throughout the picture.
type View struct {
	Name  string   // of its kind, for the caller to word; may be empty
	Ahead geom.Vec // from the eye into the model, of length 1
	Right geom.Vec
	Up    geom.Vec
}

// NewView makes a view from where the eye is: an angle around z, counted from the x axis
// towards y, and one above the ground, both in degrees. over turns the model upside down,
// as it lies on the bench for work from below.
func NewView(around, above float64, over bool) View {
	a, e := around*math.Pi/180, above*math.Pi/180
	eye := geom.Vec{math.Cos(e) * math.Cos(a), math.Cos(e) * math.Sin(a), math.Sin(e)}
	v := View{Ahead: eye.Times(-1)}
	up := geom.Vec{0, 0, 1}
	if over {
		up = geom.Vec{0, 0, -1}
	}
	v.Right = v.Ahead.Cross(up)
	v.Right = v.Right.Times(1 / v.Right.Length())
	v.Up = v.Right.Cross(v.Ahead)
	return v
}

// Over reports whether the model lies upside down.
func (v View) Over() bool { return v.Up[2] < 0 }

// frame maps a view to pixels: pixels per mm of the model, and where the top left corner
// of the picture is in the view.
type frame struct {
	view          View
	scale         float64 // pixels per mm of the model
	left, top     float64 // of the picture, in mm of the model along Right and against Up
	width, height int     // pixels
}

// border is how many pixels the picture of a region reaches beyond it on each side: the
// outline of what fills the region lies on its edge.
const border = 1

// framing is the frame of a region at a scale, in mm of paper per mm of the model.
func framing(v View, region box, scale float64) frame {
	s := scale * resolution
	return frame{view: v, scale: s, left: region.x0 - border/s, top: region.y0 - border/s,
		width: int(math.Ceil(region.width()*s)) + 2*border, height: int(math.Ceil(region.height()*s)) + 2*border}
}

// project gives pixels to the right and down, and mm away from the eye.
func (f *frame) project(p geom.Vec) (x, y, depth float64) {
	return (p.Dot(f.view.Right) - f.left) * f.scale, (-p.Dot(f.view.Up) - f.top) * f.scale, p.Dot(f.view.Ahead)
}

// box is a rectangle in a view, in mm of the model along Right and against Up.
type box struct{ x0, y0, x1, y1 float64 }

func noBox() box { return box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)} }

func (b box) with(x, y float64) box {
	return box{math.Min(b.x0, x), math.Min(b.y0, y), math.Max(b.x1, x), math.Max(b.y1, y)}
}

func (b box) and(c box) box {
	return box{math.Min(b.x0, c.x0), math.Min(b.y0, c.y0), math.Max(b.x1, c.x1), math.Max(b.y1, c.y1)}
}

func (b box) width() float64  { return b.x1 - b.x0 }
func (b box) height() float64 { return b.y1 - b.y0 }
func (b box) empty() bool     { return !(b.x0 <= b.x1) }

// shadow is the box of a body in a view, moved by an offset.
func (v View) shadow(b *Body, by geom.Vec) box {
	out := noBox()
	for _, c := range b.corners {
		p := geom.Point(c).Plus(by)
		out = out.with(p.Dot(v.Right), -p.Dot(v.Up))
	}
	return out
}

// boxShadow is the box in a view of a box in the model.
func (v View) boxShadow(b geom.Box) box {
	out := noBox()
	for _, p := range b.Corners() {
		out = out.with(p.Dot(v.Right), -p.Dot(v.Up))
	}
	return out
}

// reaching lists the things whose boxes reach into a region.
func (v View) reaching(region box, list []thing) []thing {
	var in []thing
	for _, t := range list {
		if v.boxShadow(t.body.Box).meets(region) {
			in = append(in, t)
		}
	}
	return in
}

func (b box) meets(c box) bool { return b.x0 <= c.x1 && c.x0 <= b.x1 && b.y0 <= c.y1 && c.y0 <= b.y1 }
