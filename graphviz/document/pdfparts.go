package document

import (
	"strconv"

	"dryfit/graphviz/picture"
)

// Room around the items of a parts box and between them, in mm.
const (
	itemInset = 4.0
	itemRoom  = 5.0
)

// partsBox shows what is new in a step, all at one scale, in a thin frame: in one row
// with the words beside the pictures if there is room, else with the words
// below in as many rows as it takes. It is as wide as it must be.
func (s *setter) partsBox(items []Item) (box []*piece, width float64) {
	if len(items) == 0 {
		return nil, 0
	}
	set := make([]item, len(items))
	scale := commonScale(items)
	for i, it := range items {
		set[i] = s.item(it, scale)
	}
	const wide, high = textWidth - 2*itemInset, 45.0
	if w := besideWidth(set); w <= wide && besideHeight(set) <= high {
		w += 2 * itemInset
		return framed(rowBeside(set), w, 0.25, 90), w
	}
	var rows []*piece
	for len(set) > 0 {
		n, w := fitting(set, wide)
		row := rowBelow(set[:n])
		if len(rows) > 0 {
			row[0].before = 2.5
		}
		rows = append(rows, row...)
		width = max(width, w+2*itemInset)
		set = set[n:]
	}
	return framed(rows, width, 0.25, 90), width
}

// item is an item with its words wrapped.
type item struct {
	picture sized
	words   []atom
	width   float64 // of the words
}

var itemStyle = style{points: 10.5, weight: "B"}

// item is not drawn out by a long name beyond what a few columns of words are wide.
func (s *setter) item(it Item, scale float64) item {
	const least, most = 14.0, 42.0
	label := []run{{text: quantity(it.Count)}, {it.Ref, it.Link}}
	w := max(least, min(most, max(s.width(cellStyle, s.oneLine(it.Name)), s.width(itemStyle, label[0].text+s.oneLine(it.Ref))))) + small
	words := lineAtoms(itemStyle, s.wrap(itemStyle, w, label...))
	words = append(words, lineAtoms(cellStyle, s.wrap(cellStyle, w, run{text: it.Name}))...)
	var p sized
	if visible(it.Picture) {
		p = s.pictureAt(it.Picture, scale)
	}
	return item{p, words, w}
}

func quantity(count int) string {
	if count < 1 {
		return ""
	}
	return strconv.Itoa(count) + "x "
}

// commonScale is how much all pictures of a box are made smaller so that the largest
// does not take the page from the picture of the step.
func commonScale(items []Item) float64 {
	const widest, highest = 70.0, 26.0
	scale := 1.0
	for _, i := range items {
		if visible(i.Picture) {
			scale = min(scale, widest/i.Picture.Width, highest/i.Picture.Height)
		}
	}
	return scale
}

// aside is the room between a picture and the words beside it.
func (i item) aside() float64 {
	if i.picture.height == 0 {
		return 0
	}
	return i.picture.width + 2.5
}

func besideWidth(items []item) float64 {
	w := -itemRoom
	for _, i := range items {
		w += i.aside() + i.width + itemRoom
	}
	return w
}

func besideHeight(items []item) float64 {
	high := 0.0
	for _, i := range items {
		high = max(high, i.picture.height, column{atoms: i.words}.height())
	}
	return high
}

// rowBeside has the words at the right of the pictures, all about one line.
func rowBeside(items []item) []*piece {
	high := besideHeight(items)
	var cols []column
	x := itemInset
	for _, i := range items {
		if i.picture.height > 0 {
			cols = append(cols, column{x, []atom{gap((high - i.picture.height) / 2), i.picture.atom}})
		}
		words := column{x + i.aside(), i.words}
		words.atoms = append([]atom{gap((high - words.height()) / 2)}, i.words...)
		cols = append(cols, words)
		x += i.aside() + i.width + itemRoom
	}
	return side(0, nil, cols...)
}

// fitting is how many items fit side by side with the words below, at least one, and
// how wide they are.
func fitting(items []item, wide float64) (n int, width float64) {
	for _, i := range items {
		w := max(i.picture.width, i.width)
		if n > 0 {
			w += itemRoom
		}
		if n > 0 && width+w > wide {
			break
		}
		n++
		width += w
	}
	return n, width
}

// rowBelow stands the pictures on one line, with the words below.
func rowBelow(items []item) []*piece {
	high := 0.0
	for _, i := range items {
		high = max(high, i.picture.height)
	}
	var cols []column
	x := itemInset
	for _, i := range items {
		var atoms []atom
		if i.picture.height > 0 {
			atoms = append(atoms, gap(high-i.picture.height), i.picture.atom)
		} else {
			atoms = append(atoms, gap(high))
		}
		cols = append(cols, column{x, append(append(atoms, gap(1)), i.words...)})
		x += max(i.picture.width, i.width) + itemRoom
	}
	return side(0, nil, cols...)
}

// visible reports whether there is a picture that has a size.
func visible(p *picture.Picture) bool {
	return p != nil && p.Width > 0 && p.Height > 0 && p.Width < 1e5 && p.Height < 1e5
}
