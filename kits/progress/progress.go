package progress

import (
	"fmt"
	"slices"

	"dryfit/kits"
	"dryfit/kits/plain"
)

// Progress is how far a kit is printed and built.
type Progress struct {
	Pieces []States // of each piece of the kit, with what is implied
	Joins  map[*kits.Join]bool
	Wires  map[*kits.Wire]bool
	Tasks  map[*kits.Task]bool
	// Unknown are names in the file that the kit does not have.
	Unknown kits.Faults
}

// Of is what the file says of a kit.
func (f *File) Of(k *kits.Kit) *Progress { return f.of(namesOf(k)) }

func (f *File) of(n *names) *Progress {
	p := &Progress{
		Pieces: make([]States, len(n.kit.Pieces)),
		Joins:  map[*kits.Join]bool{}, Wires: map[*kits.Wire]bool{}, Tasks: map[*kits.Task]bool{},
	}
	for i, list := range f.covered(n, &p.Unknown) {
		for _, piece := range list {
			p.Pieces[piece] |= f.Pieces[i].States
		}
	}
	for _, r := range f.Done {
		s, err := n.named(r.Name)
		switch {
		case err != nil:
			unknown(&p.Unknown, r, err)
		case s.Wire != nil:
			p.Wires[s.Wire] = true
		case s.Task != nil:
			p.Tasks[s.Task] = true
		case s.IsFit():
			unknown(&p.Unknown, r, fmt.Errorf("%q fits pieces; mark those as fitted, under pieces", plain.Text(r.Name)))
		default:
			p.Joins[s.Join] = true
		}
	}
	for _, t := range f.Tests {
		if !slices.ContainsFunc(n.kit.Parts, func(part *kits.Part) bool { return part.ID == t.Part.Name }) {
			unknown(&p.Unknown, t.Part, fmt.Errorf("the kit has no part called %q, which was test-printed", plain.Text(t.Part.Name)))
		}
	}
	p.handled(n.kit)
	for i := range p.Pieces {
		p.Pieces[i] = p.Pieces[i].Implied(n.kit.Pieces[i].Part)
	}
	return p
}

// covered lists the pieces that each entry stands for.
func (f *File) covered(n *names, faults *kits.Faults) [][]int {
	list := make([][]int, len(f.Pieces))
	for i, e := range f.Pieces {
		var err error
		if list[i], err = n.piece(e.Name); err != nil {
			unknown(faults, e.Ref, err)
		}
	}
	return list
}

func unknown(faults *kits.Faults, r kits.Ref, err error) {
	faults.Add(r.Pos, "%s", err)
}

// handled adds that pieces of steps that are done, and those they are fitted to, were
// cleaned.
func (p *Progress) handled(k *kits.Kit) {
	clean := func(pieces ...int) {
		for _, piece := range pieces {
			p.Pieces[piece] |= Cleaned
		}
	}
	for _, j := range k.Joins {
		for _, piece := range j.Pieces {
			if p.Joins[j] {
				clean(piece)
			} else if !j.IsClose() && p.Pieces[piece]&Fitted != 0 {
				clean(j.Onto...)
			}
		}
	}
	for _, w := range k.Wires {
		if p.Wires[w] {
			clean(append([]int{w.From, w.To}, w.Through...)...)
		}
	}
}

// Step reports whether a step of the kit is done: a fit once all its pieces are fitted,
// any other once the file says so. The other two arguments are nil.
func (p *Progress) Step(j *kits.Join, w *kits.Wire, t *kits.Task) bool {
	switch {
	case w != nil:
		return p.Wires[w]
	case t != nil:
		return p.Tasks[t]
	case j.IsClose():
		return p.Joins[j]
	}
	for _, piece := range j.Pieces {
		if p.Pieces[piece]&Fitted == 0 {
			return false
		}
	}
	return true
}
