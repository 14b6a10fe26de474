package printing

import (
	"cmp"
	"context"
	"fmt"
	"math/rand/v2"
	"slices"

	"dryfit/kits"
)

// Plate is one filling of a printer's bed.
type Plate struct {
	Number   int // from 1, in starting order
	Printer  *kits.Printer
	Unit     int // which of the printers of that kind, from 1
	Material *kits.Material
	Pieces   []Placed
	Room     int // how many times room on the bed counted when it was chosen how its parts lie
	Takes    Band
	Begins   Band // after the first plate starts
	Ends     Band
}

// Placed is a piece on a plate. Its box lies at X, Y from the front left corner of the
// volume, mm.
type Placed struct {
	Part     *Part
	Piece    Piece
	Setting  *Setting
	X, Y     float64
	Quarters int // right angles by which it is turned from the setting, counter-clockwise seen from above
}

// Box is the width and depth of the piece on the plate, mm.
func (p *Placed) Box() (w, d float64) {
	if p.Quarters%2 == 1 {
		return p.Setting.Size[1], p.Setting.Size[0]
	}
	return p.Setting.Size[0], p.Setting.Size[1]
}

// On names the printer, and which of several.
func (p *Plate) On() string {
	if p.Printer.Count > 1 {
		return fmt.Sprintf("%s no. %d", p.Printer.ID, p.Unit)
	}
	return p.Printer.ID
}

// Mass is the mass of all pieces with their supports, in grams; most says that it is an upper bound,
// because some are known by size only.
func (p *Plate) Mass() (g float64, most bool) {
	for _, x := range p.Pieces {
		g += mass(x.Part.Material()+x.Setting.Printed, p.Material)
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

// InNeed lists the pieces in the order in which the build needs them.
func (p *Plate) InNeed() []Placed {
	list := slices.Clone(p.Pieces)
	slices.SortStableFunc(list, func(a, b Placed) int { return cmp.Compare(a.Piece.Need, b.Piece.Need) })
	return list
}

// job is a piece that is to be printed.
type job struct {
	number int // in order of need
	facts  *facts
	piece  Piece
	on     []*Setting // by kind of printer; nil where it does not fit
	made   []*kits.Material
	room   int // with which that was set
}

// manner is one way to fill plates. Several are tried.
type manner struct {
	beds     float64 // how many beds of pieces are considered together, in order of need
	byHeight bool    // if more than one bed, the tallest bed of them comes first
	effort   effort  // for each plate
	// falling puts pieces on the bed strictly by falling height, whatever their need: 1
	// exactly, higher numbers with random variation.
	falling int
}

// machine is one printer.
type machine struct {
	kind   int
	number int
	free   Band // when it can start its next plate
}

// filler fills plates one after the other.
type filler struct {
	kinds  []*kits.Printer
	units  []machine
	queues [][]*job // by kind, what it can print, in order of need
	done   []bool   // by the number of the job
	manner
	plates []*Plate
}

// fill puts all jobs on plates. Whenever a printer is free it takes the piece
// that is needed next among those that it can print, and with it as many more of
// that material as the bed holds: first those that are needed soon, then any that
// take no extra time.
func fill(ctx context.Context, kinds []*kits.Printer, units []machine, jobs []*job, m manner) []*Plate {
	f := &filler{kinds: kinds, units: slices.Clone(units), queues: make([][]*job, len(kinds)), done: make([]bool, len(jobs)), manner: m}
	for k := range kinds {
		for _, j := range jobs {
			if j.on[k] != nil {
				f.queues[k] = append(f.queues[k], j)
			}
		}
	}
	for ctx.Err() == nil && f.next() {
	}
	return f.plates
}

// next fills one plate: with as much of the window as it holds, then with what
// comes later and costs no extra time. It reports false when all is done.
func (f *filler) next() bool {
	u := f.soonest()
	if u == nil {
		return false
	}
	p, material := f.kinds[u.kind], f.queues[u.kind][0].made[u.kind]
	var l *layout
	if f.falling > 0 {
		l = f.fall(u.kind, material)
	} else {
		l = f.inNeed(u.kind, material)
	}
	for _, j := range l.on {
		f.done[j.number] = true
	}
	plate := &Plate{Number: len(f.plates) + 1, Printer: p, Unit: u.number, Material: material, Pieces: l.pieces, Room: l.on[0].room}
	plate.Takes = plate.takes()
	plate.begin(&u.free)
	f.plates = append(f.plates, plate)
	return true
}

// inNeed fills a bed with what is needed soon, then with what comes later and costs
// no extra time.
func (f *filler) inNeed(kind int, m *kits.Material) *layout {
	p := f.kinds[kind]
	head, rest := f.window(kind, m)
	l := layOut(p, kind, head, f.effort)
	if l.cells == nil {
		return l // of one piece that leaves no room
	}
	height := l.height()
	for _, j := range rest {
		s := j.on[kind]
		if s.clears(p) && (p.Process == kits.Filament || s.Height() <= height) {
			l.put(j)
		}
	}
	return l
}

// fall fills a bed with the tallest pieces: with as many of them as go on it together,
// then with lower ones, the taller first.
func (f *filler) fall(kind int, m *kits.Material) *layout {
	p := f.kinds[kind]
	list, _ := f.window(kind, m)
	rank := make(map[*job]float64, len(list))
	rng := rand.New(rand.NewPCG(uint64(f.falling), uint64(len(f.plates))))
	for _, j := range list {
		rank[j] = j.on[kind].Height()
		if f.falling > 1 {
			rank[j] *= 0.9 + 0.2*rng.Float64()
		}
	}
	slices.SortStableFunc(list, func(a, b *job) int { return cmp.Compare(rank[b], rank[a]) })
	room := free(p)
	var l *layout
	n := 0
	for share := fullest; l == nil || len(l.on) < n && n > 1; share -= shareStep {
		n = max(upTo(share*room[0]*room[1], kind, list), 1)
		l = layOut(p, kind, list[:n], f.effort)
	}
	if l.cells == nil {
		return l // of one piece that leaves no room
	}
	for _, j := range list[n:] {
		if j.on[kind].clears(p) {
			l.put(j)
		}
	}
	return l
}

// fullest and shareStep are how full of the tallest pieces a bed is tried to be filled,
// and how much less full next.
const (
	fullest   = 0.95
	shareStep = 0.05
)

// soonest finds the printer that is free first and has something to print; nil if none
// has.
func (f *filler) soonest() *machine {
	for k, q := range f.queues {
		for len(q) > 0 && f.done[q[0].number] {
			q = q[1:]
		}
		f.queues[k] = q
	}
	return soonest(f.units, func(u *machine) bool { return len(f.queues[u.kind]) > 0 })
}

// machines are all printers, free at once.
func machines(kinds []*kits.Printer) (list []machine) {
	for k, p := range kinds {
		for n := range p.Count {
			list = append(list, machine{kind: k, number: n + 1})
		}
	}
	return list
}

// soonest finds the printer that is free first among those that are in question; nil if
// none is.
func soonest(units []machine, is func(*machine) bool) (best *machine) {
	for i := range units {
		if u := &units[i]; is(u) && (best == nil || u.free.High < best.free.High) {
			best = u
		}
	}
	return best
}

// maxTogether bounds how many pieces are considered together for one plate.
const maxTogether = 250

// window lists the pieces of a material that a kind of printer still has to
// print: those considered together, and those that come later, in order of need.
func (f *filler) window(kind int, m *kits.Material) (head, rest []*job) {
	var list []*job
	q := f.queues[kind]
	n := 0
	for ; n < len(q) && len(list) < f.effort.pieces; n++ {
		if j := q[n]; !f.done[j.number] && j.made[kind] == m {
			list = append(list, j)
		}
	}
	f.forget(kind, n)
	room := free(f.kinds[kind])
	bed := room[0] * room[1]
	n = upTo(f.beds*bed, kind, list)
	head, rest = list[:n:n], list[n:]
	if !f.byHeight || f.beds <= 1 {
		return head, rest
	}
	tall := slices.Clone(head)
	slices.SortStableFunc(tall, func(a, b *job) int { return cmp.Compare(b.on[kind].Height(), a.on[kind].Height()) })
	n = upTo(bed, kind, tall)
	low := tall[n:]
	slices.SortStableFunc(low, func(a, b *job) int { return cmp.Compare(a.number, b.number) })
	return tall[:n:n], append(low, rest...)
}

// forget drops what is done from the first n of a queue, so that it is not
// visited again and again.
func (f *filler) forget(kind, n int) {
	q := f.queues[kind]
	at := n
	for i := n - 1; i >= 0; i-- {
		if j := q[i]; !f.done[j.number] {
			at--
			q[at] = j
		}
	}
	f.queues[kind] = q[at:]
}

// upTo is how many of the first pieces of a list fill an area.
func upTo(area float64, kind int, list []*job) int {
	for n, j := range list {
		if area <= 0 || n == maxTogether {
			return n
		}
		area -= j.on[kind].Outline.Area()
	}
	return len(list)
}

// takes is how long a plate takes.
func (p *Plate) takes() Band {
	var t Band
	for _, x := range p.Pieces {
		t = sharing(p.Printer, t, x.Setting.Time)
	}
	return Band{min(t.Low, maxTime), min(t.High, maxTime)}
}

// sharing is how long two pieces take on one plate: in resin as long as the slower,
// in filament as long as one after the other.
func sharing(p *kits.Printer, a, b Band) Band {
	if p.Process == kits.Resin {
		return later(a, b)
	}
	return a.Plus(b)
}
