package draft

import (
	"cmp"
	"math"
	"slices"
)

// When a piece comes; the order of a kit follows that of its file where it can.
const (
	shellFirst = iota // the shells that continue the base,
	interior          // what they hold,
	closing           // the closing of the halves,
	lids              // what closes the rest,
	outside           // and what is outside
)

// sortJoins puts the joins in the order that a person would write: interior before shell,
// what is fitted to one piece together, from the floor up, copies side by side.
func (d *draft) sortJoins() {
	floor := func(p int) float64 { return math.Round(d.survey.Pieces[p].Min[2]) }
	slices.SortStableFunc(d.joins, func(a, b join) int {
		return cmp.Or(cmp.Compare(d.when(a), d.when(b)), cmp.Compare(a.q, b.q), cmp.Compare(floor(a.p), floor(b.p)))
	})
}

func (d *draft) when(j join) int {
	switch {
	case j.close:
		return closing
	case d.continues(j):
		return shellFirst
	case d.closes[j.p]:
		return lids
	case d.in[j.p] >= 0 || !d.free[j.p]:
		return interior
	}
	return outside
}

// continues reports whether a join fits a shell to the shell that it continues.
func (d *draft) continues(j join) bool {
	return d.wall[j.p] && d.wall[j.q] && d.room[j.p] >= alike*d.room[j.q]
}

// leaveForLater has the halves closed once the shells that continue them are on, and what
// is outside fitted to them after that, where there is an order like that.
func (d *draft) leaveForLater() error {
	shell := map[int]bool{d.base.root: true, d.base.half: true}
	var later []int
	close := slices.IndexFunc(d.joins, func(j join) bool { return j.close })
	for before := 0; before < len(shell); {
		before = len(shell)
		for _, j := range d.joins {
			if d.when(j) == shellFirst && shell[j.q] {
				shell[j.p] = true
			}
		}
	}
	for p := range d.ids {
		if shell[p] && p != d.base.root && p != d.base.half {
			d.joins[close].after = append(d.joins[close].after, p)
		}
	}
	for i, j := range d.joins {
		if shell[j.q] && d.when(j) > closing {
			later = append(later, i)
			d.joins[i].later = true
		}
	}
	if sound, err := d.sound(); err != nil || sound {
		return err
	}
	d.joins[close].after = nil
	for _, i := range later {
		d.joins[i].later = false
	}
	for _, i := range later {
		d.joins[i].later = true
		sound, err := d.sound()
		if err != nil {
			return err
		}
		d.joins[i].later = sound
	}
	return nil
}

// findPairs finds the parts that are mirror images of each other across the plane where
// the halves of the base meet or, if it has none, through its middle.
func (d *draft) findPairs() map[int]int {
	pairs := map[int]int{}
	axes, plane := []int{d.base.axis}, d.middle(d.base.root)
	if d.base.half >= 0 {
		plane[d.base.axis] = d.plane(&d.base)
	} else {
		axes = []int{1, 0}
	}
	for _, axis := range axes {
		for p := range d.ids {
			for q := p + 1; q < len(d.ids); q++ {
				_, done := pairs[q]
				if _, taken := pairs[p]; !taken && !done && d.mirrored(p, q, axis, plane[axis]) {
					pairs[p], pairs[q] = q, p
				}
			}
		}
	}
	return pairs
}

// mirrored reports whether two pieces are mirror images across a plane, as far as their
// boxes, volumes and triangles say.
func (d *draft) mirrored(p, q, axis int, plane float64) bool {
	a, b := d.survey.Pieces[p], d.survey.Pieces[q]
	if a.Len() == 0 || a.Len() != b.Len() || math.Abs(a.Volume-b.Volume) > 0.001*a.Volume {
		return false
	}
	for k := range 3 {
		low, high := b.Min[k], b.Max[k]
		if k == axis {
			low, high = 2*plane-b.Max[k], 2*plane-b.Min[k]
		}
		if math.Abs(a.Min[k]-low) > d.survey.Model.Pitch || math.Abs(a.Max[k]-high) > d.survey.Model.Pitch {
			return false
		}
	}
	return true
}
