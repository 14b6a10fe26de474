package printing

import (
	"cmp"
	"context"
	"fmt"
	"runtime"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"

	"dryfit/kits"
	"dryfit/kits/progress"
)

// Request is what is to be printed, and on what.
type Request struct {
	Printers  []*kits.Printer
	Materials []*kits.Material
	Parts     []*Part // in any order; those of one process only or of none; some may have no pieces
	// NoLayers skips the layers of the parts, and the findings about them.
	NoLayers bool
	Aim      Aim
	Kept     []progress.Plate // of an earlier plan, to be printed as they are
	First    int              // number of the first new plate; 0 for 1
	Printed  int              // pieces that are printed already
	// Known, if not nil, is what was measured before; what is measured is added.
	Known *Known
	// Progress, if not nil, is called with the fraction of the work done, 0 to 1.
	Progress func(share float64)

	unseen bool // see Plan.Unseen
}

// Plan is how a kit is printed.
type Plan struct {
	Parts  []*Planned // as requested, without those that have no pieces
	Plates []*Plate
	Ends   Band // when the last plate is done
	Unseen bool // the model has too many triangles to find which are seen

	Kept    int   // so many of the plates are as they were in an earlier plan
	GivenUp []int // numbers of those of it that no longer go
}

// Planned is what the plan says of a part.
type Planned struct {
	*Part
	On      []Fitting // whether it fits, by printer; unknown for printers of another process
	Tried   []bool    // whether that printer prints its process
	Setting *Setting  // on the printer that prints most of its pieces; nil if it fits none
	Printer *kits.Printer
	Made    *kits.Material
	Mass    float64 // g, of one piece without supports
	Support float64 // g, of the supports of one piece
	Strand  float64 // m of filament for one piece and its supports
	Sliced  bool    // its layers were computed at the setting
	Largest Layer
	Growth  Layer      // from one layer to the next
	Hollow  *Hollowing // nil if hollowing it saves little

	profile *Profile // kept for resin, where the pieces of a plate share layers
}

func newPlanned(p *Part, printers []*kits.Printer) *Planned {
	return &Planned{Part: p, On: make([]Fitting, len(printers)), Tried: make([]bool, len(printers))}
}

// Fits reports whether the part is on a plate.
func (p *Planned) Fits() bool { return p.Setting != nil }

// maxSettings bounds how many times a part is tried on a printer: some minutes of work.
const maxSettings = 50_000

// Make makes the plan. The error comes from reading a surface or from the
// context, or says that there is too much to plan.
func Make(ctx context.Context, r Request) (*Plan, error) {
	if n := r.tries(); n > maxSettings {
		return nil, fmt.Errorf("too many combinations to plan: %d of a part and a printer of its process, the limit is %d; remove printers, or plan the kit in sections", n, maxSettings)
	}
	all := make([]*facts, len(r.Parts))
	plan := &Plan{Unseen: r.unseen}
	for _, p := range r.Parts {
		plan.Parts = append(plan.Parts, newPlanned(p, r.Printers))
	}
	err := together(ctx, len(r.Parts), func(i int) (err error) {
		if all[i], err = look(ctx, r.Parts[i]); err != nil {
			return err
		}
		if all[i].known = r.Known; r.Parts[i].BySize && len(r.Parts) > manyBoxes {
			all[i].known, all[i].quick, all[i].solid.Coarse = nil, true, true
		}
		return nil
	}, r.tell(0, 0.1))
	if err != nil {
		return nil, err
	}
	lists, some, err := r.lists(ctx, plan, all)
	for _, f := range all {
		f.settled()
	}
	if err != nil {
		return nil, err
	}
	held, lists, given, err := hold(ctx, &r, lists)
	if err != nil {
		return nil, err
	}
	plan.Kept, plan.GivenUp = len(held), given
	plan.Plates = choose(ctx, r.Printers, held, lists[:some], r.Aim, max(r.First, 1))
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	for _, p := range plan.Plates {
		plan.Ends = Band{max(plan.Ends.Low, p.Ends.Low), max(plan.Ends.High, p.Ends.High)}
	}
	plan.assign()
	if !r.NoLayers {
		err = together(ctx, len(r.Parts), func(i int) error { return plan.Parts[i].slice(ctx, all[i]) }, r.tell(0.6, 0.4))
	}
	plan.Parts = slices.DeleteFunc(plan.Parts, func(p *Planned) bool { return len(p.Pieces) == 0 })
	return plan, err
}

// tries counts the parts that are tried on each printer.
func (r *Request) tries() (n int) {
	for _, p := range r.Parts {
		for _, printer := range r.Printers {
			if p.goesOn(printer) {
				n++
			}
		}
	}
	return n
}

// goesOn reports whether a printer has the process by which a part is printed.
func (p *Part) goesOn(printer *kits.Printer) bool {
	return p.Of.Printed == "" || p.Of.Printed == printer.Process
}

func (r *Request) tell(from, share float64) func(float64) {
	return func(x float64) {
		if r.Progress != nil {
			r.Progress(from + share*x)
		}
	}
}

// together runs n jobs on all processors and returns the first error, or that of the context.
func together(ctx context.Context, n int, do func(i int) error, tell func(share float64)) error {
	var lock sync.Mutex
	done := 0
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i := range n {
		if ctx.Err() != nil {
			break
		}
		group.Go(func() error {
			if err := do(i); err != nil {
				return err
			}
			lock.Lock()
			defer lock.Unlock()
			done++
			tell(float64(done) / float64(n))
			return nil
		})
	}
	return cmp.Or(group.Wait(), ctx.Err())
}

// tryAll sets a part on every printer of its process.
func (p *Planned) tryAll(ctx context.Context, f *facts, printers []*kits.Printer) (sets []*Setting, err error) {
	sets = make([]*Setting, len(printers))
	for k, printer := range printers {
		if p.goesOn(printer) {
			p.Tried[k] = true
			if sets[k], p.On[k], err = f.set(ctx, printer); err != nil {
				return nil, err
			}
		}
	}
	f.solid.Forget()
	if f.quick {
		clear(f.sides) // of many parts they take more memory than time
	}
	return sets, nil
}

// pairs sets the second of two mirrored parts as the mirror image of the first.
func pairs(ctx context.Context, all []*facts, sets [][]*Setting, printers []*kits.Printer) error {
	at := map[*kits.Part]int{}
	for i, f := range all {
		at[f.Of] = i
		j, known := at[f.Of.Pair]
		if f.Of.Pair == nil || !known || f.Of.Orient != nil {
			continue
		}
		like, err := all[i].setLike(ctx, all[j], sets[j], printers)
		if err != nil {
			return err
		}
		for k, s := range like {
			if s != nil && sets[i][k] != nil {
				s.Others = sets[i][k].Others
				sets[i][k] = s
			}
		}
		f.solid.Forget()
	}
	return nil
}

// jobs lists the pieces that fit somewhere, in order of need; those needed at the
// same time in the order of the parts. room is how many times room on the bed counts.
func (r *Request) jobs(all []*facts, sets [][]*Setting, room int) []*job {
	var list []*job
	for i, f := range all {
		if !slices.ContainsFunc(sets[i], func(s *Setting) bool { return s != nil }) {
			continue
		}
		made := make([]*kits.Material, len(r.Printers))
		for k, printer := range r.Printers {
			made[k] = materialOf(f.Of, printer, r.Materials)
		}
		for _, piece := range f.Pieces {
			list = append(list, &job{facts: f, piece: piece, on: sets[i], made: made, room: room})
		}
	}
	slices.SortStableFunc(list, func(a, b *job) int { return cmp.Compare(a.piece.Need, b.piece.Need) })
	for n, j := range list {
		j.number = n
	}
	return list
}

// materialOf is what a part is made of on a printer: as the kit says, or else the
// default material of the printer's process.
func materialOf(p *kits.Part, printer *kits.Printer, known []*kits.Material) *kits.Material {
	if p.Material != nil {
		return p.Material
	}
	plain := kits.PlainMaterial(printer.Process)
	i := slices.IndexFunc(known, func(m *kits.Material) bool { return m.ID == plain })
	return known[i]
}

// ForgetOutlines frees the outlines of all parts, which take the most memory, once plates
// are neither drawn nor written.
func (p *Plan) ForgetOutlines() {
	for _, plate := range p.Plates {
		for i := range plate.Pieces {
			plate.Pieces[i].Setting.Outline = nil
		}
	}
}

// assign gives each part the printer that prints most of its pieces.
func (p *Plan) assign() {
	type use struct {
		setting *Setting
		printer *kits.Printer
		made    *kits.Material
		pieces  int
	}
	uses := map[*Part][]use{}
	for _, plate := range p.Plates {
		for _, x := range plate.Pieces {
			list := uses[x.Part]
			i := slices.IndexFunc(list, func(u use) bool { return u.setting == x.Setting })
			if i < 0 {
				i, list = len(list), append(list, use{x.Setting, plate.Printer, plate.Material, 0})
			}
			list[i].pieces++
			uses[x.Part] = list
		}
	}
	for _, part := range p.Parts {
		list := uses[part.Part]
		if len(list) == 0 {
			continue
		}
		u := slices.MaxFunc(list, func(a, b use) int { return cmp.Compare(a.pieces, b.pieces) })
		part.Setting, part.Printer, part.Made = u.setting, u.printer, u.made
		part.Mass, part.Support = mass(part.Material(), u.made), mass(u.setting.Printed, u.made)
		if u.printer.Process == kits.Filament {
			part.Strand = strandLength(part.Material() + u.setting.Printed)
		}
	}
}

// slice computes the layers of a part at its setting.
func (p *Planned) slice(ctx context.Context, f *facts) error {
	if p.Setting == nil || p.BySize {
		return nil
	}
	layers, err := Layers(ctx, p.Surface, f.hull, p.Setting.Turn, p.Printer.Layer)
	if err != nil {
		return err
	}
	p.Sliced, p.Largest, p.Growth = true, layers.Largest(), layers.Growth(p.Setting.Raised == 0)
	if p.Printer.Process == kits.Resin {
		p.profile = layers
	}
	p.Hollow, err = p.hollowed(ctx, f)
	return err
}
