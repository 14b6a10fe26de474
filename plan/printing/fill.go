package printing

import (
	"cmp"
	"slices"

	"dryfit/kits"
)

// Plate is one filling of a printer's bed.
type Plate struct {
	Number   int // from 1, in the sequence in which plates are begun
	Printer  *kits.Printer
	Unit     int // which of the printers of that kind, from 1
	Material *kits.Material
	Pieces   []Placed
	Takes    Band
	Begins   Band // after the first plate of all is begun
	Ends     Band
}

// Placed is a piece on a plate. Its box lies at X, Y from the front left corner of the
// volume, mm.
type Placed struct {
	Part    *Part
	Piece   Piece
	Setting *Setting
	X, Y    float64
	Quarter bool // turned by a right angle, counter-clockwise seen from above, from the setting
}

// Box is the width and depth of the piece on the plate, mm.
func (p *Placed) Box() (w, d float64) {
	if p.Quarter {
		return p.Setting.Size[1], p.Setting.Size[0]
	}
	return p.Setting.Size[0], p.Setting.Size[1]
}

// Mass is that of all pieces, in grams; most says that it is the most it can be, because
// some are known by size only.
func (p *Plate) Mass() (g float64, most bool) {
	for _, x := range p.Pieces {
		g += mass(x.Part.Shape.Volume, p.Material)
		most = most || x.Part.BySize
	}
	return g, most
}

// Height is how far the tallest piece reaches above the bed, mm.
func (p *Plate) Height() (h float64) {
	for _, x := range p.Pieces {
		h = max(h, x.Setting.Height())
	}
	return h
}

// InNeed lists the pieces in the sequence in which the build needs them.
func (p *Plate) InNeed() []Placed {
	list := slices.Clone(p.Pieces)
	slices.SortStableFunc(list, func(a, b Placed) int { return cmp.Compare(a.Piece.Need, b.Piece.Need) })
	return list
}

// job is a piece that is to be printed.
type job struct {
	facts *facts
	piece Piece
	on    []*Setting // by kind of printer; nil where it does not fit
	made  []*kits.Material
}

// manner is one way to fill plates. Several are tried.
type manner struct {
	beds     float64 // how many beds of pieces are looked at together, in the sequence of need
	byHeight bool    // if more than one bed, the tallest bed of them comes first
}

// machine is one printer.
type machine struct {
	kind   int
	number int
	free   Band // when it can begin its next plate
}

// filler fills plates one after the other.
type filler struct {
	kinds []*kits.Printer
	units []machine
	left  []*job // in the sequence of need
	manner
	plates []*Plate
}

// fill puts all jobs on plates. Whenever a printer is free it takes the piece that is
// needed next of those that it can print, and with it as many more of that material as
// the bed holds: first of those that are needed soon, then any that need no more time.
func fill(kinds []*kits.Printer, jobs []*job, m manner) []*Plate {
	f := &filler{kinds: kinds, left: slices.Clone(jobs), manner: m}
	for k, p := range kinds {
		for n := range p.Count {
			f.units = append(f.units, machine{kind: k, number: n + 1})
		}
	}
	for len(f.left) > 0 {
		f.next()
	}
	return f.plates
}

// next fills one plate: with as much as it holds of what is looked at, then with what
// comes later and costs no more time.
func (f *filler) next() {
	u, first := f.soonest()
	p := f.kinds[u.kind]
	head, rest := f.window(u.kind, first.made[u.kind])
	l := layOut(p, u.kind, head)
	height := l.height(u.kind)
	for _, j := range rest {
		if p.Process == kits.Filament || j.on[u.kind].Height() <= height {
			l.put(j, u.kind, tight)
		}
	}
	f.left = slices.DeleteFunc(f.left, func(j *job) bool { return l.on[j] })
	plate := &Plate{Number: len(f.plates) + 1, Printer: p, Unit: u.number, Material: first.made[u.kind], Pieces: l.pieces}
	plate.Takes = plate.takes()
	plate.Begins = u.free
	plate.Ends = plate.Begins.add(plate.Takes)
	u.free = plate.Ends.add(Band{p.Change, p.Change})
	f.plates = append(f.plates, plate)
}

// soonest finds the printer that is free first and has something to print, and what it
// prints first.
func (f *filler) soonest() (*machine, *job) {
	var best *machine
	var first *job
	known := map[int]*job{}
	for i := range f.units {
		u := &f.units[i]
		if best != nil && u.free.High >= best.free.High {
			continue
		}
		j, looked := known[u.kind]
		if !looked {
			at := slices.IndexFunc(f.left, func(j *job) bool { return j.on[u.kind] != nil })
			if at >= 0 {
				j = f.left[at]
			}
			known[u.kind] = j
		}
		if j != nil {
			best, first = u, j
		}
	}
	return best, first
}

// maxTogether and maxTried bound how many pieces are looked at together, and in all, for
// one plate.
const (
	maxTogether = 250
	maxTried    = 2000
)

// window lists the pieces of a material that a kind of printer prints: those that are
// looked at together, and those that come later, in the sequence of need.
func (f *filler) window(kind int, m *kits.Material) (head, rest []*job) {
	p := f.kinds[kind]
	bed := (p.Volume[0] + p.Margin) * (p.Volume[1] + p.Margin)
	head, rest = f.upTo(f.beds*bed, kind, m, f.left)
	if !f.byHeight || f.beds <= 1 {
		return head, rest
	}
	tall := slices.Clone(head)
	slices.SortStableFunc(tall, func(a, b *job) int { return cmp.Compare(b.on[kind].Height(), a.on[kind].Height()) })
	tall, _ = f.upTo(bed, kind, m, tall)
	low := slices.DeleteFunc(head, func(j *job) bool { return slices.Contains(tall, j) })
	return tall, append(low, rest...)
}

// upTo parts the pieces of a material that a kind of printer prints: as many of the
// first as fill an area, and the others.
func (f *filler) upTo(area float64, kind int, m *kits.Material, list []*job) (head, rest []*job) {
	p := f.kinds[kind]
	for _, j := range list {
		s := j.on[kind]
		switch {
		case s == nil || j.made[kind] != m:
		case len(head)+len(rest) == maxTried:
			return head, rest
		case area <= 0 || len(head) == maxTogether:
			rest = append(rest, j)
		default:
			head = append(head, j)
			area -= (s.Size[0] + p.Margin) * (s.Size[1] + p.Margin)
		}
	}
	return head, rest
}

// takes is how long a plate takes: on resin as long as the slowest of its pieces, on
// filament as long as all of them one after the other.
func (p *Plate) takes() Band {
	var t Band
	for _, x := range p.Pieces {
		if p.Printer.Process == kits.Resin {
			t.Low, t.High = max(t.Low, x.Setting.Time.Low), max(t.High, x.Setting.Time.High)
		} else {
			t = t.add(x.Setting.Time)
		}
	}
	return Band{min(t.Low, maxTime), min(t.High, maxTime)}
}
