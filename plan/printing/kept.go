package printing

import (
	"cmp"
	"context"
	"math"
	"slices"

	"dryfit/kits"
	"dryfit/kits/progress"
)

// Keep is the plates as the progress file keeps them.
func (p *Plan) Keep() []progress.Plate {
	var list []progress.Plate
	for _, plate := range p.Plates {
		out := progress.Plate{Number: plate.Number, On: plate.Printer.ID, Room: plate.Room}
		for _, x := range plate.Pieces {
			out.Pieces = append(out.Pieces, &progress.OnPlate{ID: x.Piece.ID, X: x.X, Y: x.Y, Turned: float64(90 * x.Quarters)})
		}
		list = append(list, out)
	}
	return list
}

// done reports what is printed: pieces of the model as the progress file says of them,
// others once a plate that is kept with them is printed.
func done(k *kits.Kit, f *progress.File) map[string]bool {
	printed := map[string]bool{}
	if f == nil {
		return printed
	}
	for _, p := range f.Plates {
		for _, x := range p.Pieces {
			if p.Printed {
				printed[x.ID] = true
			}
		}
	}
	for i, s := range f.Of(k).Pieces {
		printed[k.Pieces[i].ID] = s&progress.Printed != 0
	}
	return printed
}

// keptPlates are the plates of the progress file that are still to be printed as they are:
// those of which no piece is printed.
func keptPlates(f *progress.File, printed map[string]bool) (list []progress.Plate) {
	if f == nil {
		return nil
	}
	for _, p := range f.Plates {
		if !p.Printed && !slices.ContainsFunc(p.Pieces, func(x *progress.OnPlate) bool { return printed[x.ID] }) {
			list = append(list, p)
		}
	}
	return list
}

// firstNumber is the number with which new plates begin: after all that ever were.
func firstNumber(f *progress.File) int {
	n := 1
	if f != nil {
		for _, p := range f.Plates {
			n = max(n, p.Number+1)
		}
	}
	return n
}

// hold makes the plates that are kept, and takes their pieces from the lists of jobs. One
// that no longer goes as it was planned, because a piece is gone or has another shape, is
// given up, and its pieces are planned anew; given are the numbers of those. The error is
// the context's.
func hold(ctx context.Context, r *Request, lists [][]*job) (held []*Plate, rest [][]*job, given []int, err error) {
	of := map[int]map[string]*job{} // by room
	for _, jobs := range lists {
		for _, j := range jobs {
			if of[j.room] == nil {
				of[j.room] = map[string]*job{}
			}
			of[j.room][j.piece.ID] = j
		}
	}
	taken := map[string]bool{}
	for _, k := range r.Kept {
		if err := ctx.Err(); err != nil {
			return nil, nil, nil, err
		}
		var l *layout
		kind := slices.IndexFunc(r.Printers, func(p *kits.Printer) bool { return p.ID == k.On })
		if list := jobsOn(k, kind, of[max(k.Room, 1)]); list != nil && !slices.ContainsFunc(list, func(j *job) bool { return taken[j.piece.ID] }) {
			l = again(r.Printers[kind], kind, k, list)
		}
		if l == nil {
			given = append(given, k.Number)
			continue
		}
		for _, j := range l.on {
			taken[j.piece.ID] = true
		}
		p := &Plate{Number: k.Number, Printer: r.Printers[kind], Material: l.on[0].made[kind], Pieces: l.pieces, Room: max(k.Room, 1)}
		p.Takes = p.takes()
		held = append(held, p)
	}
	slices.SortStableFunc(held, func(a, b *Plate) int { return cmp.Compare(a.Number, b.Number) })
	for _, jobs := range lists {
		rest = append(rest, slices.DeleteFunc(jobs, func(j *job) bool { return taken[j.piece.ID] }))
	}
	return held, rest, given, nil
}

// jobsOn are the jobs of the pieces of a plate; nil if one of them is not to be printed on
// that kind of printer in the material of the others, or is there twice.
func jobsOn(k progress.Plate, kind int, of map[string]*job) []*job {
	if kind < 0 {
		return nil
	}
	var list []*job
	twice := map[*job]bool{}
	for _, x := range k.Pieces {
		j := of[x.ID]
		if j == nil || j.on[kind] == nil || twice[j] || len(list) > 0 && j.made[kind] != list[0].made[kind] {
			return nil
		}
		twice[j] = true
		list = append(list, j)
	}
	return list
}

// again lays a plate of these jobs out as it was; nil if that is not possible any more.
func again(p *kits.Printer, kind int, k progress.Plate, list []*job) *layout {
	l := layOutlines(p, kind)
	for i, x := range k.Pieces {
		j := list[i]
		quarters := int(x.Turned) / 90
		at := Placed{j.facts.Part, j.piece, j.on[kind], x.X, x.Y, quarters}
		if !l.has(p, &at, len(k.Pieces) == 1) {
			return nil
		}
		l.cover(&at)
		l.place(j, at)
	}
	return l
}

// rounded is by how much, in mm, places in the progress file may be off.
const rounded = 0.002

// has reports whether there is room for a piece at its place: apart from the boxes of all
// others or, if it lies on the grid of the cells, on cells that are free.
func (l *layout) has(p *kits.Printer, x *Placed, single bool) bool {
	w, d := x.Box()
	edge := l.edge
	if single && !x.Setting.clears(p) {
		edge = 0
	}
	if x.X < edge-rounded || x.Y < edge-rounded || x.X+w > p.Volume[0]-edge+spareRoom+rounded || x.Y+d > p.Volume[1]-edge+spareRoom+rounded {
		return false
	}
	near := slices.ContainsFunc(l.pieces, func(o Placed) bool {
		ow, od := o.Box()
		return math.Hypot(max(x.X-o.X-ow, o.X-x.X-w, 0), max(x.Y-o.Y-od, o.Y-x.Y-d, 0)) < gap(p)-rounded
	})
	if !near {
		return true
	}
	c, r, on := l.grid(x)
	return on && l.cells.clear(&x.Setting.Outline.stamp(x.Quarters).mask, c, r)
}
