package kits

import (
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// resolve turns every name of the kit into what it refers to, gives defaults, and
// turns every length into mm. What is wrong is added to faults.
func (k *Kit) resolve(faults *Faults) {
	v := &resolver{kit: k, faults: faults}
	v.fixings()
	v.parts()
	v.joins()
	v.spaces()
	v.wires()
	v.tasks()
	v.steps()
	v.order()
	v.service()
	v.lengths()
	k.rings(faults)
}

type resolver struct {
	kit       *Kit
	faults    *Faults
	stepNames map[string]Target
	known     struct{ parts, spaces, fixings, steps []string }
	tried     int
}

func (v *resolver) fault(p Pos, format string, args ...any) { v.faults.add(p, format, args...) }

func (v *resolver) suggest(name string, known []string) string {
	if v.tried++; v.tried > maxFaults {
		return ""
	}
	return didYouMean(name, known)
}

func (v *resolver) fixings() {
	k := v.kit
	k.fixingOf = map[string]*Fixing{}
	own := k.Fixings
	k.Fixings = nil
	for _, f := range builtIn() {
		if !slices.ContainsFunc(own, func(o *Fixing) bool { return o.ID == f.ID }) {
			k.Fixings = append(k.Fixings, f)
		}
	}
	k.Fixings = append(k.Fixings, own...)
	for _, f := range own {
		f.Opens = opensByKind(f.Kind)
		if f.opens != nil {
			f.Opens = *f.opens
		}
	}
	for _, f := range k.Fixings {
		k.fixingOf[f.ID] = f
		v.known.fixings = append(v.known.fixings, f.ID)
	}
}

func (v *resolver) parts() {
	k := v.kit
	k.partOf = map[string]*Part{}
	for _, p := range k.Parts {
		k.partOf[p.ID] = p
		v.known.parts = append(v.known.parts, p.ID)
		if p.Name == "" {
			p.Name = strings.ReplaceAll(p.ID, "-", " ")
		}
		if p.Quantity == 0 {
			p.Quantity = 1
		}
		if p.Class == "" {
			p.Class = "model"
		}
		if p.paint != nil {
			p.Paint, p.PaintPos = p.paint.s, p.paint.pos
		}
		if !p.InModel() {
			continue
		}
		if len(k.Pieces)+p.Quantity > MaxPieces {
			v.fault(p.Pos, "parts: %s: the kit has more than %d pieces, the most that can be read", p.ID, MaxPieces)
			p.Quantity = 1
			continue
		}
		p.first = len(k.Pieces)
		for c := 1; c <= p.Quantity; c++ {
			name := p.ID
			if p.Quantity > 1 {
				name += "." + strconv.Itoa(c)
			}
			k.Pieces = append(k.Pieces, Piece{name, p, c})
		}
	}
	for _, p := range k.Parts {
		v.pair(p)
	}
}

func (v *resolver) pair(p *Part) {
	if p.pair == nil {
		return
	}
	other := v.kit.partOf[p.pair.Name]
	switch {
	case other == nil:
		v.fault(p.pair.Pos, "pair: no part is called %q%s; a mirrored part is a part of its own", p.pair.Name, v.suggest(p.pair.Name, v.known.parts))
		return
	case other == p:
		v.fault(p.pair.Pos, "pair: %s cannot be its own mirror image", p.ID)
		return
	case other.pair != nil && other.pair.Name != p.ID:
		v.fault(p.pair.Pos, "pair: %s names %s as its pair, not %s", other.ID, other.pair.Name, p.ID)
		return
	case other.Quantity != p.Quantity:
		v.fault(p.pair.Pos, "pair: %s has quantity %d and its mirror image %s has %d", p.ID, p.Quantity, other.ID, other.Quantity)
		return
	}
	p.Pair = other
	if other.pair == nil {
		other.Pair = p
	}
}

// pieces resolves the name of a part or of one copy of it.
func (v *resolver) pieces(key string, r Ref) []int {
	name, copyNo, one := strings.Cut(r.Name, ".")
	p := v.kit.partOf[name]
	switch {
	case p == nil:
		v.fault(r.Pos, "%s: no part is called %q%s", key, name, v.suggest(name, v.known.parts))
		return nil
	case !p.InModel():
		v.fault(r.Pos, "%s: %s is %s and is never in the model; change its class or leave it out here", key, name, p.Class)
		return nil
	}
	all := v.kit.Copies(p)
	if !one {
		return all
	}
	c, err := strconv.Atoi(copyNo)
	if err != nil || c > len(all) {
		v.fault(r.Pos, "%s: %s has quantity %d, so there is no %s; correct the quantity or the number", key, name, p.Quantity, r.Name)
		return nil
	}
	return all[c-1 : c]
}

func (v *resolver) allPieces(key string, refs []Ref) []int {
	var list []int
	for _, r := range refs {
		list = append(list, v.pieces(key, r)...)
	}
	return list
}

// onePiece resolves a name that must mean a single piece; -1 when it does not, which
// is then reported, so that nobody sees it but the checks that follow.
func (v *resolver) onePiece(key string, r Ref) int {
	if r.Name == "" {
		return -1 // already reported
	}
	list := v.pieces(key, r)
	if len(list) > 1 {
		v.fault(r.Pos, "%s: %s has %d copies; name one, such as %s.1", key, r.Name, len(list), r.Name)
	}
	if len(list) == 0 {
		return -1
	}
	return list[0]
}

func (v *resolver) joins() {
	k := v.kit
	k.fitOf = make([]*Join, len(k.Pieces))
	for _, j := range k.Joins {
		j.Fixing, j.Opens = v.fixing(j)
		if j.IsClose() {
			for _, r := range j.close {
				j.Pieces = append(j.Pieces, v.onePiece("close", r))
			}
			continue
		}
		if j.fit == nil {
			continue // already reported
		}
		j.Pieces = v.pieces("fit", *j.fit)
		j.Onto = v.onto(j)
		for _, p := range j.Pieces {
			if first := k.fitOf[p]; first != nil {
				v.fault(j.fit.Pos, "fit: %s is fitted a second time, first at %s; name all it is fitted to in one join, to: [...]", k.Pieces[p].ID, first.Pos)
				continue
			}
			k.fitOf[p] = j
		}
	}
}

// onto resolves what a piece is fitted to: each once, and not itself.
func (v *resolver) onto(j *Join) []int {
	var list []int
	for _, r := range j.to {
		for _, p := range v.pieces("to", r) {
			switch {
			case slices.Contains(j.Pieces, p):
				v.fault(r.Pos, "to: %s is joined to itself", v.kit.Pieces[p].ID)
			case slices.Contains(list, p):
				v.fault(r.Pos, "to: %s stands here a second time; remove one", v.kit.Pieces[p].ID)
			default:
				list = append(list, p)
			}
		}
	}
	return list
}

func (v *resolver) fixing(j *Join) (*Fixing, bool) {
	opens := false
	var f *Fixing
	if j.with != nil {
		if f = v.kit.fixingOf[j.with.Name]; f == nil {
			v.fault(j.with.Pos, "with: no fixing is called %q%s", j.with.Name, v.suggest(j.with.Name, v.known.fixings))
		} else {
			opens = f.Opens
		}
	}
	if j.opens != nil {
		opens = *j.opens
	}
	return f, opens
}

func (v *resolver) spaces() {
	k := v.kit
	k.spaceOf = map[string]*Space{}
	k.heldIn = map[int][]*Space{}
	for _, s := range k.Spaces {
		k.spaceOf[s.ID] = s
		v.known.spaces = append(v.known.spaces, s.ID)
	}
	for _, s := range k.Spaces {
		for _, c := range s.closedBy {
			v.closer(s, c)
		}
		held := map[int]bool{}
		for _, r := range s.holds {
			for _, p := range v.pieces("holds", r) {
				if held[p] {
					v.fault(r.Pos, "holds: %s stands here a second time; remove one", k.Pieces[p].ID)
					continue
				}
				held[p] = true
				s.Holds = append(s.Holds, Held{p, r.Pos})
				k.heldIn[p] = append(k.heldIn[p], s)
			}
		}
		if s.inside != nil {
			s.Inside = v.space("inside", *s.inside)
		}
	}
	for _, s := range k.Spaces {
		v.nesting(s)
	}
}

func (v *resolver) closer(s *Space, c closer) {
	out := Closer{Piece: -1, Opening: c.opening, Pos: c.pos}
	if c.name != nil {
		out.Name = c.name.Name
	}
	if out.Opening != nil {
		out.Opening.Facing = c.facing
	}
	switch {
	case c.piece == nil && c.opening == nil:
		return // already reported
	case c.piece == nil:
		s.ClosedBy = append(s.ClosedBy, out)
		return
	}
	for _, p := range v.pieces("closed-by", *c.piece) {
		out.Piece = p
		s.ClosedBy = append(s.ClosedBy, out)
	}
}

func (v *resolver) space(key string, r Ref) *Space {
	s := v.kit.spaceOf[r.Name]
	if s == nil {
		v.fault(r.Pos, "%s: no space is called %q%s", key, r.Name, v.suggest(r.Name, v.known.spaces))
	}
	return s
}

// nesting reports a space that is inside itself, and cuts the ring so that nobody
// walks it for ever.
func (v *resolver) nesting(s *Space) {
	seen := map[*Space]bool{s: true}
	for at := s; at.Inside != nil; at = at.Inside {
		if seen[at.Inside] {
			v.fault(at.inside.Pos, "inside: %s is inside itself by way of %s", at.Inside.ID, at.ID)
			at.Inside = nil
			return
		}
		seen[at.Inside] = true
	}
}

func (v *resolver) wires() {
	for _, w := range v.kit.Wires {
		w.ID = w.id.Name
		w.From = v.onePiece("from", w.from)
		w.To = v.onePiece("to", w.to)
		w.Through = v.allPieces("through", w.through)
		for _, r := range w.runsIn {
			if s := v.space("runs-in", r); s != nil {
				w.RunsIn = append(w.RunsIn, s)
			}
		}
		if w.hole != nil {
			w.Hole, w.HolePos = &w.hole.v, w.hole.pos
		}
	}
}

func (v *resolver) tasks() {
	for _, t := range v.kit.Tasks {
		t.Coat = t.coat != ""
	}
}

// steps collects the names of the steps. Parts, wires and steps share one set of
// names, because after and before can mean any of them.
func (v *resolver) steps() {
	v.stepNames = map[string]Target{}
	name := func(r Ref, t Target) {
		if old, twice := v.stepNames[r.Name]; twice {
			v.fault(r.Pos, "step: %q already names the step at %s; choose another name", r.Name, old.Pos)
			return
		}
		if p := v.kit.partOf[r.Name]; p != nil {
			v.fault(r.Pos, "step: %q is the part at %s; after and before could not tell them apart, choose another name", r.Name, p.Pos)
			return
		}
		t.Ref = r
		v.stepNames[r.Name] = t
		v.known.steps = append(v.known.steps, r.Name)
	}
	own := func(o *Order, t Target) {
		if o.step != nil {
			o.Step, o.StepPos = o.step.Name, o.step.Pos
			name(*o.step, t)
		}
	}
	for _, j := range v.kit.Joins {
		own(&j.Order, Target{Joins: []*Join{j}})
	}
	for _, w := range v.kit.Wires {
		if w.ID != "" {
			name(w.id, Target{Wire: w})
			w.Step, w.StepPos = w.ID, w.id.Pos
		}
	}
	for _, t := range v.kit.Tasks {
		own(&t.Order, Target{Task: t})
	}
	v.known.steps = append(v.known.steps, v.known.parts...)
}

func (v *resolver) order() {
	both := func(o *Order) {
		o.After = v.targets("after", o.after)
		o.Before = v.targets("before", o.before)
	}
	for _, o := range v.kit.orders() {
		both(o)
	}
}

func (v *resolver) targets(key string, refs []Ref) []Target {
	var list []Target
	for _, r := range refs {
		if t, ok := v.stepNames[r.Name]; ok {
			t.Ref = r
			list = append(list, t)
			continue
		}
		part, _, _ := strings.Cut(r.Name, ".")
		if v.kit.partOf[part] == nil {
			v.fault(r.Pos, "%s: no step, wire or piece is called %q%s", key, r.Name, v.suggest(r.Name, v.known.steps))
			continue
		}
		t := Target{Ref: r}
		for _, p := range v.pieces(key, r) {
			j := v.kit.fitOf[p]
			if j == nil {
				v.fault(r.Pos, "%s: no step fits %s, the base of its group; name a step instead", key, v.kit.Pieces[p].ID)
				continue
			}
			if !slices.Contains(t.Joins, j) {
				t.Joins = append(t.Joins, j)
			}
		}
		list = append(list, t)
	}
	return list
}

func (v *resolver) service() {
	for _, s := range v.kit.Service {
		s.Reach = v.onePiece("reach", s.reach)
		if s.Reach < 0 {
			continue
		}
		for _, r := range s.ByOpening {
			if !v.isOpening(s.Reach, r) {
				v.fault(r.Pos, "by-opening: %q is no closer and no named opening of a space that holds %s%s",
					r.Name, s.reach.Name, v.suggest(r.Name, v.openings(s.Reach)))
			}
		}
	}
}

func (v *resolver) isOpening(piece int, r Ref) bool {
	return slices.ContainsFunc(v.openings(piece), func(name string) bool {
		part, _, _ := strings.Cut(name, ".")
		return name == r.Name || part == r.Name
	})
}

// openings lists the names of the ways into the spaces that hold a piece.
func (v *resolver) openings(piece int) []string {
	var names []string
	for _, s := range v.kit.Around(piece) {
		for _, c := range s.ClosedBy {
			if c.Piece >= 0 {
				names = append(names, v.kit.Pieces[c.Piece].ID)
			}
			if c.Name != "" {
				names = append(names, c.Name)
			}
		}
	}
	return names
}

// Around lists the spaces a piece is in, each followed by those it is inside.
func (k *Kit) Around(piece int) []*Space {
	var list []*Space
	for _, s := range k.heldIn[piece] {
		for at := s; at != nil && !slices.Contains(list, at); at = at.Inside {
			list = append(list, at)
		}
	}
	return list
}

// lengths turns all lengths from the units of the file into mm.
func (v *resolver) lengths() {
	k := v.kit
	unit := map[string]float64{"": 1, "mm": 1, "cm": 10, "in": 25.4}[k.units]
	k.Clearance = 1
	if k.clearance != nil {
		k.Clearance = k.clearance.v * unit
	}
	if unit == 1 {
		return
	}
	scale := func(s *Size) {
		if s != nil {
			for i := range s.XYZ {
				s.XYZ[i] *= unit
			}
		}
	}
	for _, p := range k.Parts {
		scale(p.Size)
	}
	for _, j := range k.Joins {
		scale(j.Size)
	}
	for _, w := range k.Wires {
		for _, x := range []*float64{w.Across, w.Hole} {
			if x != nil {
				*x *= unit
			}
		}
	}
	done := map[*Opening]bool{}
	for _, s := range k.Spaces {
		for _, c := range s.ClosedBy {
			if o := c.Opening; o != nil && !done[o] {
				done[o] = true // copies of one closer share the opening
				o.W *= unit
				o.H *= unit
			}
		}
	}
}

// MeshFile is where the mesh of a piece is looked for, without the ending when the
// kit does not name the file.
func (k *Kit) MeshFile(piece int) string {
	pc := k.Pieces[piece]
	if pc.Part.Mesh != "" {
		return path.Join(k.Meshes, pc.Part.Mesh)
	}
	return path.Join(k.Meshes, pc.ID)
}

func readPrinter(r *reader, n *yaml.Node) (printer, bool) {
	if n.Kind != yaml.MappingNode {
		r.fault(n, "must be a mapping, not %s", kindOf(n))
		return printer{}, false
	}
	r.pairs(n, func(_, _ *yaml.Node) {})
	return printer{}, true
}

// rings reports each join between pieces that other joins already tie together.
func (k *Kit) rings(faults *Faults) {
	t := newTies(len(k.Pieces))
	for _, j := range k.Joins {
		tie := func(a, b int) {
			if chain := t.join(a, b); chain != nil {
				faults.add(j.Pos, "%s", k.ring(a, b, chain))
			}
		}
		switch {
		case j.IsClose() && len(j.Pieces) == 2 && j.Pieces[0] >= 0 && j.Pieces[1] >= 0:
			tie(j.Pieces[0], j.Pieces[1])
		case !j.IsClose() && len(j.Onto) > 0:
			for _, p := range j.Pieces {
				if k.fitOf[p] == j {
					tie(p, j.Onto[0])
				}
			}
		}
	}
}

// ring words a ring: the chain of pieces from a to b that is already there.
func (k *Kit) ring(a, b int, chain []int) string {
	if a == b {
		return fmt.Sprintf("%s is joined to itself", k.Pieces[a].ID)
	}
	names := make([]string, len(chain), len(chain)+1)
	for i, p := range chain {
		names[i] = k.Pieces[p].ID
	}
	if len(names) > 12 {
		names = slices.Concat(names[:6], []string{"..."}, names[len(names)-5:])
	}
	names = append(names, k.Pieces[a].ID)
	return fmt.Sprintf("closes a ring: %s; other joins already tie %s and %s together, so make it a task, or fit the last of them with to: [...]",
		strings.Join(names, " - "), k.Pieces[a].ID, k.Pieces[b].ID)
}
