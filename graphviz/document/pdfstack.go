package document

// atom is what is never broken at all: a line, a picture.
type atom struct {
	height float64
	paint  func(c *canvas, x, y float64)
}

// column is a stack of atoms, x mm from the left edge of its piece.
type column struct {
	x     float64
	atoms []atom
}

func (col column) height() float64 {
	h := 0.0
	for _, a := range col.atoms {
		h += a.height
	}
	return h
}

// side sets columns side by side, with room above and below. They are one piece,
// unless that would be too high: then as many as it takes. Under, if any, is painted
// first, to the height of each.
func side(pad float64, under func(c *canvas, x, y, h float64), cols ...column) []*piece {
	var pieces []*piece
	for first := true; first || left(cols); first = false {
		part := make([]column, len(cols))
		h := 0.0
		for i := range cols {
			part[i] = column{cols[i].x, top(&cols[i].atoms)}
			h = max(h, part[i].height())
		}
		h += 2 * pad
		pieces = append(pieces, &piece{height: h, paint: func(c *canvas, x, y float64) {
			if under != nil {
				under(c, x, y, h)
			}
			for _, col := range part {
				at := y + pad
				for _, a := range col.atoms {
					a.paint(c, x+col.x, at)
					at += a.height
				}
			}
		}})
	}
	return pieces
}

func left(cols []column) bool {
	for _, col := range cols {
		if len(col.atoms) > 0 {
			return true
		}
	}
	return false
}

// top takes off as many atoms as one piece can hold, and at least one.
func top(atoms *[]atom) []atom {
	h := 0.0
	for i, a := range *atoms {
		if h += a.height; i > 0 && h > tallest-2*padding {
			head := (*atoms)[:i]
			*atoms = (*atoms)[i:]
			return head
		}
	}
	head := *atoms
	*atoms = nil
	return head
}

// padding is the most room that a piece has above and below, in mm.
const padding = 3.0

// lineAtoms are lines of text as atoms.
func lineAtoms(s style, lines []line) []atom {
	list := make([]atom, len(lines))
	for i, l := range lines {
		list[i] = atom{s.leading(), func(c *canvas, x, y float64) { c.line(x, y, s, l) }}
	}
	return list
}

// framed draws a box around pieces, that is open where a page ends within it. Its
// edge has a width and a grey.
func framed(pieces []*piece, wide, width float64, grey int) []*piece {
	const pad = 2.2
	sides := func(c *canvas, x, y, h float64) {
		c.rule(x, y, x, y+h, width, grey)
		c.rule(x+wide, y, x+wide, y+h, width, grey)
	}
	edge := func(before, h, at float64) *piece {
		return &piece{before: before, height: h, paint: func(c *canvas, x, y float64) {
			sides(c, x, y, h)
			c.rule(x, y+at, x+wide, y+at, width, grey)
		}}
	}
	list := []*piece{edge(3, pad, 0)}
	for _, p := range pieces {
		in := *p
		in.before, in.height = 0, p.before+p.height
		in.paint = func(c *canvas, x, y float64) {
			sides(c, x, y, in.height)
			p.paint(c, x, y+p.before)
		}
		list = append(list, &in)
	}
	list[0].keep = true
	list[len(list)-1].keep = true
	return append(list, edge(0, pad, pad))
}
