package document

import "dryfit/graphviz/picture"

// Room in the line of what is new in a step, in mm.
const (
	takeRoom  = 6.0 // between items
	takeInner = 2.0 // between a square, its picture and its words
)

// take is the line of what is new in a step: for each item a square to tick, a small
// picture, all at one scale, and the words. It goes on in as many rows as it takes.
func (s *setter) take(items []Item) []*piece {
	if len(items) == 0 {
		return nil
	}
	head := lineAtoms(boldStyle, s.wrap(boldStyle, textWidth/4, run{text: s.book.Fixed.Take}))
	indent := 0.0
	if len(head) > 0 {
		indent = min(textWidth/4, s.width(boldStyle, s.oneLine(s.book.Fixed.Take))) + takeRoom
	}
	scale := commonScale(items)
	var list []*piece
	row, x := []column{{0, head}}, indent
	for _, i := range items {
		set, wide := s.taken(i, scale, textWidth-indent)
		if x > indent && x+wide > textWidth {
			list = append(list, side(0.5, nil, middled(row)...)...)
			row, x = nil, indent
		}
		for _, col := range set {
			row = append(row, column{x + col.x, col.atoms})
		}
		x += wide + takeRoom
	}
	list = append(list, side(0.5, nil, middled(row)...)...)
	list[0].before = 1.5
	return list
}

// taken is an item in at most some room, and how wide it is.
func (s *setter) taken(i Item, scale, room float64) ([]column, float64) {
	const most = 85.0
	square := atom{tickSquare, func(c *canvas, x, y float64) { c.frame(x, y, tickSquare, tickSquare, 0.35) }}
	set, x := []column{{0, []atom{square}}}, tickSquare+takeInner
	if visible(i.Picture) {
		p := s.pictureAt(i.Picture, scale)
		set = append(set, column{x, []atom{p.atom}})
		x += p.width + takeInner
	}
	wide := 0.0
	lines := s.wrap(bodyStyle, min(most, room-x), run{i.Ref, i.Link}, run{text: " " + s.book.Fixed.named(i)})
	for _, l := range lines {
		wide = max(wide, l.width)
	}
	return append(set, column{x, lineAtoms(bodyStyle, lines)}), x + wide
}

// middled are columns side by side, all about one line if none is much higher than it.
func middled(cols []column) []column {
	const most = 30.0
	high := 0.0
	for _, c := range cols {
		high = max(high, c.height())
	}
	for i, c := range cols {
		if room := (high - c.height()) / 2; room > 0 && high <= most {
			cols[i].atoms = append([]atom{gap(room)}, c.atoms...)
		}
	}
	return cols
}

// commonScale is how much all pictures of a step's items are made smaller so that the
// largest does not take the page from the picture of the step.
func commonScale(items []Item) float64 {
	const widest, highest = 40.0, 14.0
	scale := 1.0
	for _, i := range items {
		if visible(i.Picture) {
			scale = min(scale, widest/i.Picture.Width, highest/i.Picture.Height)
		}
	}
	return scale
}

// visible reports whether there is a picture that has a size.
func visible(p *picture.Picture) bool {
	return p != nil && p.Width > 0 && p.Height > 0 && p.Width < 1e5 && p.Height < 1e5
}
