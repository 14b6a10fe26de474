package plan

import (
	"fmt"

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
	change     change
	closings   map[int][]int    // piece -> the closings that name it
	bridge     [][]int32        // step -> the steps that span both sides of it, -1 for a wire
	accessOf   map[int][]int    // step -> its accesses
	undone     []bool           // step -> undone on the finished model once all that opens is opened
	ways       int              // of all entries
	conditions int              // joins of all ways together
	spent      int              // work of the repairs tried
	cutShort   bool             // some repairs were not tried for want of work
	routes     []int            // access past meshes -> the route that counts
	told       map[[2]int][]int // access and route -> statements of its blockers
	stamp      []int            // scratch of eachClause
	mark       int
	number     struct {
		join map[*kits.Join]int
		wire map[*kits.Wire]int
		task map[*kits.Task]int
	}
}

// Need asks that step Before is done earlier than step After. Statement says why.
type Need struct{ Before, After, Statement int }

// Statement is something the designer says from which a need or a clause follows.
type Statement struct {
	Text string
	At   kits.Pos
	// What a repair could change about it.
	kind  statementKind
	join  *kits.Join   // seat: the join that fits the other piece
	order *kits.Target // asked: what is named
	word  string       // asked: after or before
	part  *kits.Part   // coat
	// inside and travels: index of the access; travels: of the route and the blocker too.
	access, route, blocker int
}

type statementKind int

const (
	seat    statementKind = iota // a piece sits on another that must be in place first
	group                        // pieces must be in one group first
	asked                        // an after or before
	coat                         // painted with, or after, the outside coat
	inside                       // a piece is held in a space, or a wire runs in it
	travels                      // a piece travels into its seat past another
)

// Derive derives the rules of a kit.
func Derive(k *kits.Kit) *Constraints { return derive(k, nil, change{}) }

// again derives the rules as if the kit said something else.
func (r *Constraints) again(c change) *Constraints { return derive(r.Kit, r.Geometry, c) }

func derive(k *kits.Kit, g *Geometry, c change) *Constraints {
	r := &Constraints{Kit: k, Geometry: g, Steps: steps(k), change: c, closings: map[int][]int{}, accessOf: map[int][]int{}, told: map[[2]int][]int{}}
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
		r.askedNeeds(i, s.said())
	}
	for _, t := range k.Tasks {
		if t.Coat {
			r.coatNeeds(t)
		}
	}
	r.intoSpace()
	r.pastMesh()
	return r
}

func (r *Constraints) numberSteps() {
	r.number.join = make(map[*kits.Join]int, len(r.Kit.Joins))
	r.number.wire = make(map[*kits.Wire]int, len(r.Kit.Wires))
	r.number.task = make(map[*kits.Task]int, len(r.Kit.Tasks))
	for i, s := range r.Steps {
		switch s.Kind {
		case Thread:
			r.number.wire[s.Wire] = i
		case Task:
			r.number.task[s.Task] = i
		default:
			r.number.join[s.Join] = i
			if s.Kind == Close {
				for _, p := range s.Join.Pieces {
					r.closings[p] = append(r.closings[p], i)
				}
			}
		}
	}
}

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

// base is the piece that a fitted piece hangs on.
func (r *Constraints) base(j *kits.Join) int { return r.change.ontoOf(j)[0] }

func (r *Constraints) state(s Statement) int {
	r.Statements = append(r.Statements, s)
	return len(r.Statements) - 1
}

func (r *Constraints) need(before, after, statement int) {
	r.Needs = append(r.Needs, Need{before, after, statement})
}

// fitNeeds: what a piece is fitted to is in its place, and in one group.
func (r *Constraints) fitNeeds(i int, j *kits.Join) {
	onto := r.change.ontoOf(j)
	for _, q := range onto {
		r.inPlace(i, q, r.toPos(j, q))
	}
	r.oneGroup(i, onto, j.Pos, fmt.Sprintf("%s is fitted to %s, which must be in one group first",
		r.pieceNames(j.Pieces), r.pieceNames(onto)))
}

// toPos is the place of the name that stands for piece q in the join's to list.
func (r *Constraints) toPos(j *kits.Join, q int) kits.Pos {
	for _, ref := range j.To() {
		if id := r.Kit.Pieces[q]; ref.Name == id.ID || ref.Name == id.Part.ID {
			return ref.Pos
		}
	}
	return j.Pos
}

// inPlace: the join that fits piece q comes before step i, unless q can wait on
// the bench.
func (r *Constraints) inPlace(i, q int, at kits.Pos) {
	j := r.Kit.Fitted(q)
	if j == nil || r.change.isBench(j) {
		return
	}
	r.need(r.number.join[j], i, r.state(Statement{
		Text: fmt.Sprintf("%s comes after %s is in its place on %s", r.name(i), r.pieceName(q), r.pieceName(r.base(j))),
		At:   at, kind: seat, join: j,
	}))
}

// oneGroup: the joins that tie the pieces together come before step i.
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
		r.conditions += len(path)
		for _, s := range path {
			if done[s] {
				continue
			}
			done[s] = true
			if statement < 0 {
				statement = r.state(Statement{Text: text, At: at, kind: group})
			}
			r.need(int(s), i, statement)
		}
	}
}

// wireNeeds: both ends and all it is threaded through are in place and in one group.
func (r *Constraints) wireNeeds(i int, w *kits.Wire) {
	pieces := append([]int{w.From, w.To}, w.Through...)
	for _, q := range pieces {
		r.inPlace(i, q, w.Pos)
	}
	r.oneGroup(i, pieces, w.Pos, fmt.Sprintf("%s ties %s together, which must be in one group first",
		w.ID, r.pieceNames(pieces)))
}

// askedNeeds: what after and before say.
func (r *Constraints) askedNeeds(i int, o *kits.Order) {
	for n := range o.After {
		t := &o.After[n]
		text := fmt.Sprintf("%s is asked to come after %s", r.name(i), t.Name)
		r.asked(t, "after", text, func(other, statement int) { r.need(other, i, statement) })
	}
	for n := range o.Before {
		t := &o.Before[n]
		text := fmt.Sprintf("%s is asked to come before %s", r.name(i), t.Name)
		r.asked(t, "before", text, func(other, statement int) { r.need(i, other, statement) })
	}
}

func (r *Constraints) asked(t *kits.Target, word, text string, need func(other, statement int)) {
	if r.change.dropped(*t) {
		return
	}
	statement := r.state(Statement{Text: text, At: t.Pos, kind: asked, order: t, word: word})
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
		list = append(list, r.number.join[j])
	}
	return list
}

// coatNeeds: all pieces painted outside are on before the coat, all painted off
// the model are fitted after it. The base of a group is on once a closing that
// names it is done.
func (r *Constraints) coatNeeds(t *kits.Task) {
	at := r.number.task[t]
	for _, p := range r.Kit.Parts {
		if r.conditions++; r.tooLarge() {
			return
		}
		paint := r.change.paintOf(p)
		if paint != "outside" && paint != "off-model" || !p.InModel() {
			continue
		}
		done := map[int]bool{}
		for _, piece := range r.Kit.Copies(p) {
			for _, s := range r.putOn(piece, paint) {
				if done[s] {
					continue
				}
				done[s] = true
				r.conditions += 30 // each with a statement of its own
				if paint == "outside" {
					r.need(s, at, r.state(Statement{
						Text: fmt.Sprintf("%s is painted with the outside coat, so %s comes before %s", p.ID, r.name(s), r.name(at)),
						At:   p.PaintPos, kind: coat, part: p}))
				} else {
					r.need(at, s, r.state(Statement{
						Text: fmt.Sprintf("%s is painted off the model, so %s comes after %s", p.ID, r.name(s), r.name(at)),
						At:   p.PaintPos, kind: coat, part: p}))
				}
			}
		}
	}
}

// putOn lists the steps that put a piece on: the one that fits it or, for the base
// of a group painted outside, the closings that name it.
func (r *Constraints) putOn(piece int, paint string) []int {
	if j := r.Kit.Fitted(piece); j != nil {
		return []int{r.number.join[j]}
	}
	if paint == "outside" {
		return r.closings[piece]
	}
	return nil
}
