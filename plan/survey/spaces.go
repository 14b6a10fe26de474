package survey

// Space is a hollow found by geometry.
type Space struct {
	Name     string
	Volume   float64
	ClosedBy []Closer
	Holds    []int
}

// Closer is a piece that shuts a hollow and what it leaves open while it is off.
type Closer struct {
	Piece  int
	Facing string
	W, H   float64 // 0 if a whole side
}

func (d *draft) spaces(list []Space) {}
