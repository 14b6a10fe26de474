package mask

// Mask is a grid of open and closed points.
type Mask struct {
	Width, Height int
	Open          []bool // row by row
}

// New returns a mask with all points closed.
func New(width, height int) *Mask { return &Mask{width, height, make([]bool, width*height)} }

// Transposed is the mask with columns for rows.
func (m *Mask) Transposed() *Mask {
	out := New(m.Height, m.Width)
	for y := range m.Height {
		for x := range m.Width {
			out.Open[x*m.Height+y] = m.Open[y*m.Width+x]
		}
	}
	return out
}

// LargestRectangle is the largest rectangle of open points, by the stack of rising
// heights that each row keeps.
func (m *Mask) LargestRectangle() (w, h int) {
	width := m.Width
	up := make([]int, width+1)
	var stack []int
	for y := range m.Height {
		stack = stack[:0]
		for x := range width + 1 {
			if x < width {
				if m.Open[y*width+x] {
					up[x]++
				} else {
					up[x] = 0
				}
			}
			for len(stack) > 0 && up[stack[len(stack)-1]] >= up[x] {
				tall := up[stack[len(stack)-1]]
				stack = stack[:len(stack)-1]
				from := 0
				if len(stack) > 0 {
					from = stack[len(stack)-1] + 1
				}
				if (x-from)*tall > w*h {
					w, h = x-from, tall
				}
			}
			stack = append(stack, x)
		}
	}
	return w, h
}

// HoldsRectangle reports whether there is a rectangle of open points at least
// this large.
func (m *Mask) HoldsRectangle(w, h int) bool {
	width := m.Width
	if w > width || h > m.Height {
		return false
	}
	up := make([]int, width)
	for y := range m.Height {
		run := 0
		for x := range width {
			if m.Open[y*width+x] {
				up[x]++
			} else {
				up[x] = 0
			}
			if run++; up[x] < h {
				run = 0
			}
			if run >= w {
				return true
			}
		}
	}
	return false
}

// HoldsEllipse reports whether an ellipse of the given width and height, centred
// on the open points, is all open.
func (m *Mask) HoldsEllipse(w, h float64) bool {
	sumX, sumY, n := 0.0, 0.0, 0.0
	for i, o := range m.Open {
		if o {
			sumX, sumY, n = sumX+float64(i%m.Width), sumY+float64(i/m.Width), n+1
		}
	}
	for dy := -2.0; dy <= 2; dy++ {
		for dx := -2.0; dx <= 2; dx++ {
			if m.ellipse(sumX/n+dx, sumY/n+dy, w/2, h/2) {
				return true
			}
		}
	}
	return false
}

// ellipse reports whether the ellipse about x, y with these radii is all open.
func (m *Mask) ellipse(x, y, rx, ry float64) bool {
	if rx <= 0 || ry <= 0 || x-rx < 0 || y-ry < 0 || x+rx > float64(m.Width-1) || y+ry > float64(m.Height-1) {
		return false
	}
	for i, o := range m.Open {
		dx, dy := (float64(i%m.Width)-x)/rx, (float64(i/m.Width)-y)/ry
		if !o && dx*dx+dy*dy <= 1 {
			return false
		}
	}
	return true
}
