package draw

// Point is a place in a picture, in mm from its top left corner, y downwards.
type Point [2]float64

// Picture is a drawing for a page: marks painted one over the other.
type Picture struct {
	Width, Height float64 // mm, at the size it is meant to be printed
	Scale         float64 // mm on the page for a mm of the model; 0 if it shows none
	PNG           []byte  // painted first and filling the picture, when there are too many lines; else empty
	Marks         []Mark
}

// Mark is a set of lines, an area or a text.
type Mark struct {
	Paths  [][]Point
	Closed bool
	Curves bool      // cubic Bezier curves: a start, then three points for each
	Stroke string    // "#rrggbb"; empty for no line
	Width  float64   // of the line, in mm
	Dash   []float64 // mm of line and gap in turn; empty for a solid line
	Fill   string    // "#rrggbb"; empty for none; areas within areas are holes

	Text   string  // printed as it is, starting from the first point
	Size   float64 // of the letters, in mm
	Bold   bool
	Anchor string // start, middle or end: where along the text its point lies
}
