package plan

import (
	"fmt"
	"slices"
	"sync"

	"dryfit/kits"
)

// Constraints are the needs and clauses that follow from a kit.
type Constraints struct {
	Kit        *kits.Kit
	Steps      []Step
	Statements []Statement
	Needs      []Need
	Access     []Access  // into spaces, then past meshes
	Geometry   *Geometry // nil if nothing has been measured

	tree       *tree
	Change     Change
	Closings   map[int][]int    // piece -> the closings that name it
	bridge     [][]int32        // step -> the steps that span both sides of it
	accessOf   map[int][]int    // step -> its accesses
	ways       int              // routes of all accesses into spaces
	Conditions int              // joins of all those routes
	routes     []int            // access past meshes -> the chosen route
	told       map[[2]int][]int // access and route -> statements of its blockers
	derived    int              // accesses that follow from the kit; the others were learned
	outcome    *Solution        // of Outcome
	exact      []int            // an order of all steps in which each can be done, nil if none was found
	asked      int              // work of learning
	gaveUp     bool             // learning took more than maxAsked
	stamp      []int            // scratch of eachClause
	mark       int
	nearClear  func() []bool   // by piece, see nearClear
	hazards    func() []Hazard // of the whole kit
	atSteps    func() [][]Hazard
	thatOpen   func() []int // the joins that open, the last of the file first
	number     struct {
		Join map[*kits.Join]int
		wire map[*kits.Wire]int
		task map[*kits.Task]int
	}
}

// Need requires step Before to be done earlier than step After. Statement says
// why.
type Need struct{ Before, After, Statement int }

// Statement is something the kit file says that implies a need or a clause.
type Statement struct {
	Text string
	At   kits.Pos
	// What a repair could change.
	Kind  Ground
	Join  *kits.Join   // seat: the join that fits the other piece
	Order *kits.Target // asked: what is named
	Word  string       // asked: after or before
	Part  *kits.Part   // coat
	// For inside and travels, the index of the access; for travels, also those of
	// the route and the blocker.
	Access, Route, Blocker int
}

type Ground int

const (
	OfSeat   Ground = iota // a piece sits on another that must be in place first
	OfGroup                // pieces must be in one group first
	OfOrder                // an after or before
	OfCoat                 // painted with, or after, the outside coat
	OfSpace                // a piece is held in a space, or a wire runs in it
	OfMeshes               // a piece travels into its seat past another
)

// Derive derives the constraints of a kit.
func Derive(k *kits.Kit) *Constraints { return derive(k, nil, Change{}) }

// With derives the constraints as if the kit had been changed.
func (r *Constraints) With(c Change) *Constraints { return derive(r.Kit, r.Geometry, c) }

func derive(k *kits.Kit, g *Geometry, c Change) *Constraints {
	r := &Constraints{Kit: k, Geometry: g, Steps: steps(k), Change: c, Closings: map[int][]int{}, accessOf: map[int][]int{}, told: map[[2]int][]int{}}
	r.nearClear = sync.OnceValue(func() []bool { return nearClear(r.Kit, r.Geometry) })
	r.hazards = sync.OnceValue(func() []Hazard { return kitHazards(r.Kit, r.nearClear()).list() })
	r.atSteps = sync.OnceValue(r.findStepHazards)
	r.thatOpen = sync.OnceValue(func() (list []int) {
		for v, s := range slices.Backward(r.Steps) {
			if s.Join != nil && r.Change.IsOpen(s.Join) {
				list = append(list, v)
			}
		}
		return list
	})
	r.numberSteps()
	r.tree = newTree(len(k.Pieces), r.edges())
	for i, s := range r.Steps {
		switch s.Kind {
		case Fit:
			r.fitNeeds(i, s.Join)
		case Close:
			for _, p := range s.Join.Pieces {
				r.inPlace(i, p, s.Join.Pos)
			}
		case Thread:
			r.wireNeeds(i, s.Wire)
		}
		r.askedNeeds(i, s.Said())
	}
	for _, t := range k.Tasks {
		if t.Coat {
			r.coatNeeds(t)
		}
	}
	r.intoSpace()
	r.pastMesh()
	r.derived = len(r.Access)
	return r
}

func (r *Constraints) numberSteps() {
	r.number.Join = make(map[*kits.Join]int, len(r.Kit.Joins))
	r.number.wire = make(map[*kits.Wire]int, len(r.Kit.Wires))
	r.number.task = make(map[*kits.Task]int, len(r.Kit.Tasks))
	for i, s := range r.Steps {
		switch s.Kind {
		case Thread:
			r.number.wire[s.Wire] = i
		case Task:
			r.number.task[s.Task] = i
		default:
			r.number.Join[s.Join] = i
			if s.Kind == Close {
				for _, p := range s.Join.Pieces {
					r.Closings[p] = append(r.Closings[p], i)
				}
			}
		}
	}
}

// StepOf is the step that makes a join.
func (r *Constraints) StepOf(j *kits.Join) int { return r.number.Join[j] }

// ThreadStep is the step that threads a wire.
func (r *Constraints) ThreadStep(w *kits.Wire) int { return r.number.wire[w] }

// Spanning lists the fits that hold both sides of a join together, so that it cannot be
// undone before them, and the wires through both sides, which are never taken out again.
func (r *Constraints) Spanning(v int) []int32 { return r.bridge[v] }

// edges lists the joins as edges between pieces.
func (r *Constraints) edges() []edge {
	var list []edge
	for i, s := range r.Steps {
		switch s.Kind {
		case Fit:
			for _, p := range s.Join.Pieces {
				list = append(list, edge{int32(p), int32(r.base(s.Join)), int32(i)})
			}
		case Close:
			list = append(list, edge{int32(s.Join.Pieces[1]), int32(s.Join.Pieces[0]), int32(i)})
		}
	}
	return list
}

// base is the piece that a join's pieces are fitted to.
func (r *Constraints) base(j *kits.Join) int { return r.Change.OntoOf(j)[0] }

func (r *Constraints) state(s Statement) int {
	r.Statements = append(r.Statements, s)
	return len(r.Statements) - 1
}

func (r *Constraints) need(before, after, statement int) {
	r.Needs = append(r.Needs, Need{before, after, statement})
}

// fitNeeds requires that what a piece is fitted to is in place, and in one group.
func (r *Constraints) fitNeeds(i int, j *kits.Join) {
	onto := r.Change.OntoOf(j)
	for _, q := range onto {
		r.inPlace(i, q, r.toPos(j, q))
	}
	r.oneGroup(i, onto, j.Pos, fmt.Sprintf("%s is fitted to %s, which must be in one group first",
		r.PieceNames(j.Pieces), r.PieceNames(onto)))
}

// toPos is the position of the name in the join's to list that covers piece q.
func (r *Constraints) toPos(j *kits.Join, q int) kits.Pos {
	for _, ref := range j.To() {
		if id := r.Kit.Pieces[q]; ref.Name == id.ID || ref.Name == id.Part.ID {
			return ref.Pos
		}
	}
	return j.Pos
}

// inPlace requires that the join that fits piece q comes before step i, unless q
// can wait on the bench.
func (r *Constraints) inPlace(i, q int, at kits.Pos) {
	j := r.Kit.Fitted(q)
	if j == nil || r.Change.IsBench(j) {
		return
	}
	r.need(r.number.Join[j], i, r.state(Statement{
		Text: fmt.Sprintf("%s comes after %s is in its place on %s", r.Name(i), r.PieceName(q), r.PieceName(r.base(j))),
		At:   at, Kind: OfSeat, Join: j,
	}))
}

// oneGroup requires that the joins that tie the pieces together come before step
// i.
func (r *Constraints) oneGroup(i int, pieces []int, at kits.Pos, text string) {
	statement := -1
	done := map[int32]bool{}
	for _, q := range pieces[1:] {
		if !r.tree.tied(pieces[0], q) {
			continue // reported as loose
		}
		if r.tooLarge() {
			return
		}
		path := r.tree.path(pieces[0], q)
		r.Conditions += len(path)
		for _, s := range path {
			if done[s] {
				continue
			}
			done[s] = true
			if statement < 0 {
				statement = r.state(Statement{Text: text, At: at, Kind: OfGroup})
			}
			r.need(int(s), i, statement)
		}
	}
}

// wireNeeds requires that both ends of a wire and all it is threaded through are
// in place and in one group.
func (r *Constraints) wireNeeds(i int, w *kits.Wire) {
	pieces := append([]int{w.From, w.To}, w.Through...)
	for _, q := range pieces {
		r.inPlace(i, q, w.Pos)
	}
	r.oneGroup(i, pieces, w.Pos, fmt.Sprintf("%s ties %s together, which must be in one group first",
		w.ID, r.PieceNames(pieces)))
}

// askedNeeds adds what after and before ask for.
func (r *Constraints) askedNeeds(i int, o *kits.Order) {
	for n := range o.After {
		t := &o.After[n]
		text := fmt.Sprintf("%s is asked to come after %s", r.Name(i), t.Name)
		r.OfOrder(t, "after", text, func(other, statement int) { r.need(other, i, statement) })
	}
	for n := range o.Before {
		t := &o.Before[n]
		text := fmt.Sprintf("%s is asked to come before %s", r.Name(i), t.Name)
		r.OfOrder(t, "before", text, func(other, statement int) { r.need(i, other, statement) })
	}
}

func (r *Constraints) OfOrder(t *kits.Target, word, text string, need func(other, statement int)) {
	if r.Change.dropped(*t) {
		return
	}
	statement := r.state(Statement{Text: text, At: t.Pos, Kind: OfOrder, Order: t, Word: word})
	for _, other := range r.targetSteps(t) {
		need(other, statement)
	}
}

// targetSteps lists the steps an after or before means.
func (r *Constraints) targetSteps(t *kits.Target) []int {
	switch {
	case t.Wire != nil:
		return []int{r.number.wire[t.Wire]}
	case t.Task != nil:
		return []int{r.number.task[t.Task]}
	}
	var list []int
	for _, j := range t.Joins {
		list = append(list, r.number.Join[j])
	}
	return list
}

// coatNeeds requires that all pieces painted outside are on before the coat, and
// that all pieces painted off the model are fitted after it. The base of a group
// is on once a closing that names it is done.
func (r *Constraints) coatNeeds(t *kits.Task) {
	at := r.number.task[t]
	for _, p := range r.Kit.Parts {
		if r.Conditions++; r.tooLarge() {
			return
		}
		paint := r.Change.paintOf(p)
		if paint != kits.PaintOutside && paint != kits.PaintOffModel || !p.InModel() {
			continue
		}
		done := map[int]bool{}
		for _, piece := range r.Kit.Copies(p) {
			for _, s := range r.putOn(piece, paint) {
				if done[s] {
					continue
				}
				done[s] = true
				r.Conditions += 30 // each with a statement of its own
				if paint == kits.PaintOutside {
					r.need(s, at, r.state(Statement{
						Text: fmt.Sprintf("%s is painted with the outside coat, so %s comes before %s", p.ID, r.Name(s), r.Name(at)),
						At:   p.PaintPos, Kind: OfCoat, Part: p}))
				} else {
					r.need(at, s, r.state(Statement{
						Text: fmt.Sprintf("%s is painted off the model, so %s comes after %s", p.ID, r.Name(s), r.Name(at)),
						At:   p.PaintPos, Kind: OfCoat, Part: p}))
				}
			}
		}
	}
}

// putOn lists the steps that put a piece on: the one that fits it or, for the base
// of a group painted outside, the closings that name it.
func (r *Constraints) putOn(piece int, paint string) []int {
	if j := r.Kit.Fitted(piece); j != nil {
		return []int{r.number.Join[j]}
	}
	if paint == kits.PaintOutside {
		return r.Closings[piece]
	}
	return nil
}
