package document

import "slices"

// The page: A4, with equal margins. The foot line stands in the bottom margin, 9 mm
// from the edge, where household printers still print.
const (
	pageWidth  = 210.0
	pageHeight = 297.0
	margin     = 15.0
	textWidth  = pageWidth - 2*margin
	textHeight = pageHeight - 2*margin
	footLine   = pageHeight - 9

	// tallest is the highest piece, in mm: with a repeated head above it, it still
	// fits on a page. What is higher is cut.
	tallest   = textHeight - maxRepeat
	maxRepeat = 60.0
)

// piece is what is not broken over pages. It is painted by its top left corner.
type piece struct {
	before  float64 // room above it, unless it starts a page; mm
	height  float64
	keep    bool     // on one page with the next piece
	loose   bool     // given up if that is more than a page: a heading before a long step
	newPage bool     // starts a page
	ids     []string // what can lead here
	mark    *bookmark
	again   []*piece // what is set again above it if it starts a page
	paint   func(c *canvas, x, y float64)
}

type bookmark struct {
	level int
	text  string
}

// placed is a piece with its place below the top margin.
type placed struct {
	*piece
	y float64
}

// flow sets pieces down the pages. Pieces that are kept together stand on one page
// if they fit on one; otherwise they start a new page and go on from there.
func flow(pieces []*piece) [][]placed {
	var pages [][]placed
	var page []placed
	y := 0.0
	turn := func() {
		pages, page, y = append(pages, page), nil, 0
	}
	put := func(p *piece, again bool) {
		gap := p.before
		if y == 0 {
			gap = 0
			if again {
				for _, a := range p.again {
					page = append(page, placed{a, y})
					y += a.height
				}
			}
		}
		page = append(page, placed{p, y + gap})
		y += gap + p.height
	}
	for i := 0; i < len(pieces); {
		together := kept(pieces[i:])
		if y > 0 && (pieces[i].newPage || y+height(together) > textHeight+small) {
			turn()
		}
		for _, p := range together {
			if y > 0 && y+p.before+p.height > textHeight+small {
				turn()
			}
			put(p, true)
		}
		i += len(together)
	}
	if len(page) > 0 || len(pages) == 0 {
		turn()
	}
	return pages
}

// small is the rounding that sums of heights may gather, in mm.
const small = 1e-6

// kept are the first pieces, as many as stay on one page.
func kept(pieces []*piece) []*piece {
	n := 1
	for n < len(pieces) && pieces[n-1].keep && !pieces[n].newPage {
		n++
	}
	if height(pieces[:n])-pieces[0].before > textHeight+small {
		for i := n - 1; i > 0; i-- {
			if pieces[i-1].loose {
				return pieces[:i]
			}
		}
	}
	return pieces[:n]
}

// height of pieces one below the other, with the room above the first.
func height(pieces []*piece) float64 {
	h := 0.0
	for _, p := range pieces {
		h += p.before + p.height
	}
	return h
}

// keepAll keeps pieces on one page.
func keepAll(pieces []*piece) {
	for i := range max(0, len(pieces)-1) {
		pieces[i].keep = true
	}
}

// places are the pages and heights of all IDs; the first of equal ones counts.
func places(pages [][]placed) (page map[string]int, y map[string]float64, ids []string) {
	page, y = map[string]int{}, map[string]float64{}
	for n, list := range pages {
		for _, p := range list {
			for _, id := range p.ids {
				if page[id] == 0 && id != "" {
					page[id], y[id] = n+1, p.y
					ids = append(ids, id)
				}
			}
		}
	}
	slices.Sort(ids)
	return page, y, ids
}
