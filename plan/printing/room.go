package printing

import (
	"context"
	"slices"

	"dryfit/kits"
	"dryfit/kits/progress"
)

// roomsFor is how many times room on the bed counts when it is chosen how parts lie, one
// after the other for each plan that is tried for an aim (ours). Parts that stand take less
// of a bed than those that lie, so fewer plates hold them, and in resin those take as long
// as one piece does; what they cost beside is still weighed. Filament takes its volume on
// any number of plates, and parts that stand are weak: its parts lie as ever.
func roomsFor(aim Aim) []int {
	if aim == ForOrder || aim == "" {
		return []int{1}
	}
	return []int{1, 8, 20}
}

// roomOn is how many times room on the bed of a printer counts for a part.
func (f *facts) roomOn(p *kits.Printer) int {
	if p.Process == kits.Resin {
		return f.room
	}
	return 1
}

// asEver is how a part lies where room on the bed counts once: it does where all ways to
// save room make the print likely to fail.
func (f *facts) asEver(ctx context.Context, p *kits.Printer) (*Setting, Fitting, error) {
	room := f.room
	f.room = 1
	s, fit, err := f.set(ctx, p)
	f.room = room
	return s, fit, err
}

// lists are the jobs by room: so many for the aim, then those that plates that are kept were
// laid out with.
func (r *Request) lists(ctx context.Context, plan *Plan, all []*facts) (lists [][]*job, some int, err error) {
	pieces := 0
	for _, p := range r.Parts {
		pieces += len(p.Pieces)
	}
	rooms := roomsFor(r.Aim)
	if pieces > manyJobs {
		rooms = rooms[:1]
	}
	some = len(rooms)
	for _, room := range roomsFor(ForPlates)[some:] {
		if slices.ContainsFunc(r.Kept, func(k progress.Plate) bool { return k.Room == room }) {
			rooms = append(rooms, room)
		}
	}
	for n, room := range rooms {
		sets, err := r.settings(ctx, plan, all, room, r.tell(0.1+0.5*float64(n)/float64(len(rooms)), 0.5/float64(len(rooms))))
		if err != nil {
			return nil, 0, err
		}
		lists = append(lists, r.jobs(all, sets, room))
	}
	return lists, some, nil
}

// settings are how each part is printed on each printer, with a room.
func (r *Request) settings(ctx context.Context, plan *Plan, all []*facts, room int, tell func(float64)) ([][]*Setting, error) {
	sets := make([][]*Setting, len(all))
	err := together(ctx, len(all), func(i int) (err error) {
		all[i].room = room
		sets[i], err = plan.Parts[i].tryAll(ctx, all[i], r.Printers)
		return err
	}, tell)
	if err == nil {
		err = pairs(ctx, all, sets, r.Printers)
	}
	if err == nil {
		err = together(ctx, len(all), func(i int) error { return all[i].outlines(ctx, sets[i], r.Printers) }, func(float64) {})
	}
	return sets, err
}
