package picture

import "math"

// Point is a place in a picture, in mm from its top left corner, y downwards.
type Point [2]float64

// Picture is a drawing for a page: marks painted one over the other.
type Picture struct {
	Width, Height float64 // mm, at the size it is meant to be printed
	Scale         float64 // mm on the page per mm of the model; 0 if it shows none
	PNG           []byte  // painted first, filling the picture, when there are too many lines; else empty
	Marks         []Mark
}

// Mark is a set of lines, an area or a text.
type Mark struct {
	Paths  [][]Point
	Closed bool
	Curves bool      // cubic Bezier curves: a start, then three points for each
	Stroke string    // "#rrggbb"; empty for no line
	Width  float64   // of the line, mm
	Dash   []float64 // lengths of lines and gaps in turn, mm; empty for a solid line
	Fill   string    // "#rrggbb"; empty for none; areas within areas are holes

	Text   string  // printed as it is, starting from the first point
	Size   float64 // of the letters, mm
	Bold   bool
	Anchor string // start, middle or end: where along the text its point lies
}

// Add paints a mark over the others.
func (p *Picture) Add(m Mark) { p.Marks = append(p.Marks, m) }

// Round rounds all numbers to hundredths of a mm, so that a picture is the same on every
// machine.
func (p *Picture) Round() *Picture {
	round := func(x float64) float64 { return math.Round(x*100) / 100 }
	p.Width, p.Height = round(p.Width), round(p.Height)
	for _, m := range p.Marks {
		for _, l := range m.Paths {
			for i := range l {
				l[i] = Point{round(l[i][0]), round(l[i][1])}
			}
		}
	}
	return p
}
