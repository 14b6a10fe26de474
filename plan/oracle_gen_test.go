package plan_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
)

// A draft is a random kit as its generator means it. The oracle works on the
// draft and the program on the text written from it, so that reading the file
// is part of what is compared.
type draft struct {
	cm        bool
	clearance float64 // mm; written only if it is not the default
	parts     []draftPart
	owner     []int // piece -> part
	joins     []draftJoin
	spaces    []draftSpace
	wires     []draftWire
	tasks     []draftTask
	ring      bool // made bad on purpose: one join closes a ring
}

type draftPart struct {
	id     string
	pieces []int     // empty for parts that are not in the model
	size   []float64 // nil if not stated
	paint  string
	class  string
	extra  string // further keys that change no rule
}

type draftJoin struct {
	whole  bool // all copies of the part in one step
	pieces []int
	to     []int // empty for a closing
	with   string
	opens  string // "true", "false" or not stated
	bench  bool
	size   []float64
	draftOrder
}

// Names in after and before are resolved by the oracle itself.
type draftOrder struct {
	step          string
	after, before []string
}

type draftSpace struct {
	id     string
	shut   []draftCloser
	holds  []string
	inside int // -1 for none
}

type draftCloser struct {
	by      string    // a piece, a part for each of its copies, or empty: never covered
	opening []float64 // nil for a whole side
	facing  string
	name    string
}

type draftWire struct {
	id       string
	from, to int
	through  []int
	runsIn   []int
	across   float64 // 0 if not stated
	draftOrder
}

type draftTask struct {
	coat bool
	draftOrder
}

// draftFixings are those the kits use, and whether joins made with them open.
// The last four are declared in every kit: both ways of overriding the kind.
var draftFixings = []struct {
	id    string
	opens bool
}{
	{"", false}, {"ca", false}, {"epoxy", false}, {"press", false},
	{"magnet", true}, {"screw", true}, {"loose", true},
	{"catch", true}, {"dead-catch", false}, {"tack", true}, {"clamp", true},
}

const draftFixingText = `fixings:
  catch: {kind: magnet, opens: true}
  dead-catch: {kind: magnet, opens: false}
  tack: {kind: glue, opens: true, cure: 1h}
  clamp: {kind: screw}
`

// draftTaste says how often this kit uses a feature. It differs from kit to kit,
// for kits that have a little of everything are all alike.
type draftTaste struct {
	opens, asked, sized, opening, facing, inside, bench, several, wild float64
}

type draftGenerator struct {
	*rand.Rand
	*draft
	draftTaste
	hung []int // piece -> representative of the group it is tied to so far
	when []int // step -> its place in an order that most after and before respect
}

// generateDraft makes a random kit of 2 to 9 steps.
func generateDraft(r *rand.Rand) *draft {
	g := &draftGenerator{Rand: r, draft: &draft{clearance: 1}}
	g.draftTaste = draftTaste{g.some(.3), g.some(.5), g.some(1), g.some(1), g.some(1), g.some(.7), g.some(.5), g.some(.5), g.some(.3)}
	if g.chance(.3) {
		g.clearance = pickOne(g, []float64{0, .5, 2, 4})
	}
	g.cm = g.chance(.15)
	steps := 2 + g.IntN(8)
	wires := min(g.few(2), steps-1)
	tasks := min(g.few(2), steps-1-wires)
	g.addJoins(steps - wires - tasks)
	g.addLooseParts()
	g.shuffleJoins()
	g.addTasks(tasks)
	g.addWires(wires)
	g.schedule()
	g.addSpaces()
	g.addSeveral()
	g.addOrder()
	if g.chance(.01) {
		g.addRing()
	}
	return g.draft
}

func (g *draftGenerator) chance(p float64) bool { return g.Float64() < p }

// some is a share between 0 and most, small ones more often.
func (g *draftGenerator) some(most float64) float64 { x := g.Float64(); return x * x * most }

// few is a number from 0 to most, small ones more often.
func (g *draftGenerator) few(most int) int { return min(g.IntN(most+1), g.IntN(most+1)) }

func pickOne[T any](g *draftGenerator, from []T) T { return from[g.IntN(len(from))] }

// addPart adds a part with so many pieces in the model and returns its number.
func (g *draftGenerator) addPart(copies int) int {
	p := draftPart{id: "part-" + string(rune('a'+len(g.parts)))}
	for range copies {
		p.pieces = append(p.pieces, len(g.owner))
		g.hung = append(g.hung, len(g.owner))
		g.owner = append(g.owner, len(g.parts))
	}
	if g.chance(.4 + g.sized) {
		p.size = g.randomSize()
	}
	p.paint = pickOne(g, []string{"", "", "", "none", "before-fit", "before-close", "outside", "outside", "off-model", "off-model", "masked"})
	p.extra = pickOne(g, []string{"", "", "", "fragile: true", "printed: resin", "bought: true", "fixed-size: true"})
	g.parts = append(g.parts, p)
	return len(g.parts) - 1
}

func (g *draftGenerator) randomSize() []float64 {
	size := []float64{g.side(3, 30), g.side(3, 30), g.side(3, 30)}
	if g.chance(.3) { // a thin one passes an opening that is shorter, aslant
		size[g.IntN(3)] = g.side(1, 2)
	}
	return size
}

func (g *draftGenerator) side(least, most int) float64 { return float64(least + g.IntN(most-least+1)) }

// addJoins adds base pieces, fits and the closings that tie it all together.
func (g *draftGenerator) addJoins(joins int) {
	bases := min(1+g.few(2), joins+1)
	if bases == 2 && g.chance(.2) {
		g.addPart(2)
	} else {
		for range bases {
			g.addPart(1)
		}
	}
	for fits := joins - (bases - 1); fits > 0; {
		fits -= g.addFit(fits)
	}
	g.Shuffle(len(g.joins), func(a, b int) { g.joins[a], g.joins[b] = g.joins[b], g.joins[a] })
	for i := range g.joins {
		g.hang(&g.joins[i])
	}
	closings := bases - 1
	if closings > 0 && joins > 2 && g.chance(.08) { // one was forgotten
		closings--
	}
	for range closings {
		g.addClosing()
	}
}

// addFit adds a new part with the one or two entries that fit it; what it goes
// to is chosen later, so that a part may hang on one that stands below it.
func (g *draftGenerator) addFit(most int) (entries int) {
	switch x := g.Float64(); {
	case x < .15:
		p := g.parts[g.addPart(2)]
		g.joins = append(g.joins, g.newJoin(draftJoin{whole: true, pieces: p.pieces}))
		return 1
	case x < .3 && most > 1:
		p := g.parts[g.addPart(2)]
		for _, piece := range p.pieces {
			g.joins = append(g.joins, g.newJoin(draftJoin{pieces: []int{piece}}))
		}
		return 2
	default:
		p := g.parts[g.addPart(1)]
		g.joins = append(g.joins, g.newJoin(draftJoin{whole: true, pieces: p.pieces}))
		return 1
	}
}

// newJoin adds what changes no tie.
func (g *draftGenerator) newJoin(j draftJoin) draftJoin {
	if g.chance(.5) {
		j.with = pickOne(g, draftFixings[:4]).id
	}
	if g.chance(g.opens) {
		j.with = pickOne(g, draftFixings[4:]).id
	}
	if g.chance(g.opens / 3) {
		j.opens = pickOne(g, []string{"true", "false"})
	}
	return j
}

// hang chooses what a fit goes to without closing a ring.
func (g *draftGenerator) hang(j *draftJoin) {
	for {
		to := g.IntN(len(g.owner))
		if !slices.ContainsFunc(j.pieces, func(p int) bool { return g.root(p) == g.root(to) }) {
			j.to = []int{to}
			break
		}
	}
	for _, p := range j.pieces {
		g.hung[g.root(p)] = g.root(j.to[0])
	}
	j.bench = g.chance(g.bench)
	if g.chance(g.sized / 3) {
		j.size = g.randomSize()
	}
}

func (g *draftGenerator) addClosing() {
	for {
		a, b := g.IntN(len(g.owner)), g.IntN(len(g.owner))
		if g.root(a) != g.root(b) {
			g.hung[g.root(a)] = g.root(b)
			g.joins = append(g.joins, g.newJoin(draftJoin{pieces: []int{a, b}}))
			return
		}
	}
}

// addRing ties two pieces that are tied already.
func (g *draftGenerator) addRing() {
	a := g.IntN(len(g.owner))
	for b := range g.owner {
		if a != b && g.root(a) == g.root(b) {
			g.ring = true
			g.joins = append(g.joins, g.newJoin(draftJoin{pieces: []int{a, b}}))
			return
		}
	}
}

func (g *draftGenerator) root(p int) int {
	for g.hung[p] != p {
		p = g.hung[p]
	}
	return p
}

// addLooseParts adds parts that no join names: those that may be left out, those
// that are never in the model, and now and then one that was forgotten.
func (g *draftGenerator) addLooseParts() {
	if g.chance(.08) {
		g.parts[g.addPart(1+g.few(1))].class = "option"
	}
	if g.chance(.08) {
		g.parts[g.addPart(0)].class = pickOne(g, []string{"tooling", "spare"})
	}
	if g.chance(.04) {
		g.addPart(1 + g.few(1))
	}
	if p := &g.parts[0]; g.chance(.1) { // an option that is joined is like any other part
		p.class = pickOne(g, []string{"model", "option"})
	}
}

// shuffleJoins mixes closings and fits, and names some of the steps.
func (g *draftGenerator) shuffleJoins() {
	g.Shuffle(len(g.joins), func(a, b int) { g.joins[a], g.joins[b] = g.joins[b], g.joins[a] })
	for i := range g.joins {
		if g.joins[i].to == nil || g.chance(.3) {
			g.joins[i].step = fmt.Sprint("join-", i+1)
		}
	}
}

func (g *draftGenerator) addTasks(n int) {
	for i := range n {
		t := draftTask{coat: g.chance(.5)}
		t.step = fmt.Sprint("task-", i+1)
		g.tasks = append(g.tasks, t)
	}
}

func (g *draftGenerator) addSpaces() {
	for i := range 1 + g.few(3) {
		s := draftSpace{id: "space-" + string(rune('a'+i)), inside: -1}
		if i > 0 && g.chance(.2+g.inside) {
			s.inside = g.IntN(i)
		}
		for range 1 + g.few(2) {
			s.shut = append(s.shut, g.newCloser(i, len(s.shut)))
		}
		s.holds = g.newHolds(s.shut)
		g.spaces = append(g.spaces, s)
	}
	// A space may stand above the one it is within.
	if n := len(g.spaces); n > 1 && g.chance(.3) && g.spaces[n-1].inside < 0 {
		g.swapSpaces(0, n-1)
	}
	for w := range g.wires {
		for i, s := range g.spaces {
			if g.chance(.35) && g.inTime(len(g.joins)+w, s.shut) {
				g.wires[w].runsIn = append(g.wires[w].runsIn, i)
			}
		}
	}
}

func (g *draftGenerator) swapSpaces(a, b int) {
	g.spaces[a], g.spaces[b] = g.spaces[b], g.spaces[a]
	for i := range g.spaces {
		switch g.spaces[i].inside {
		case a:
			g.spaces[i].inside = b
		case b:
			g.spaces[i].inside = a
		}
	}
}

func (g *draftGenerator) newCloser(space, nth int) draftCloser {
	c := draftCloser{by: g.pieceID(g.IntN(len(g.owner)))}
	if g.chance(.1) {
		c.by = g.parts[g.owner[g.IntN(len(g.owner))]].id
	}
	if g.chance(.3 + .6*g.opening) {
		c.opening = []float64{g.side(4, 34), g.side(4, 34)}
		if g.chance(.3 + .6*g.facing) {
			c.facing = pickOne(g, []string{"x", "y", "z"})
		}
		if g.chance(.1) {
			c.by = ""
		}
		if g.chance(.2) {
			c.name = fmt.Sprintf("door-%d-%d", space, nth)
		}
	}
	return c
}

// inTime tells, of most steps, whether they are scheduled before something that
// may shut the space: otherwise too few kits could be built.
func (g *draftGenerator) inTime(step int, shut []draftCloser) bool {
	return g.chance(.2+g.wild) || slices.ContainsFunc(shut, func(c draftCloser) bool {
		return slices.ContainsFunc(g.piecesOf(c.by), func(p int) bool {
			return slices.ContainsFunc(g.standing(p), func(s int) bool { return step < 0 || g.when[s] > g.when[step] })
		})
	})
}

// newHolds chooses what a space holds: parts with all their copies, or single
// pieces, each piece once.
func (g *draftGenerator) newHolds(shut []draftCloser) (holds []string) {
	held := make([]bool, len(g.owner))
	for range 1 + g.few(3) {
		part := &g.parts[g.owner[g.IntN(len(g.owner))]]
		if slices.ContainsFunc(part.pieces, func(p int) bool { return held[p] }) {
			continue
		}
		pieces, id := part.pieces, part.id
		if len(pieces) > 1 && g.chance(.4) {
			one := pickOne(g, pieces)
			pieces, id = []int{one}, g.pieceID(one)
		}
		if slices.ContainsFunc(pieces, func(p int) bool { return !g.inTime(g.fitting(p), shut) }) {
			continue
		}
		for _, p := range pieces {
			held[p] = true
		}
		holds = append(holds, id)
	}
	return holds
}

func (g *draftGenerator) addWires(n int) {
	tied := func() int { // a wire to a piece that no join ties is outside the comparison
		for {
			if p := g.IntN(len(g.owner)); !g.isLoose(p) {
				return p
			}
		}
	}
	for i := range n {
		w := draftWire{id: fmt.Sprint("lead-", i+1), from: tied(), to: tied()}
		for range g.few(2) {
			w.through = append(w.through, tied())
		}
		if g.chance(.6) {
			w.across = g.side(1, 12)
		}
		g.wires = append(g.wires, w)
	}
}

// isLoose tells whether no join names the piece.
func (d *draft) isLoose(piece int) bool {
	return !slices.ContainsFunc(d.joins, func(j draftJoin) bool {
		return slices.Contains(j.pieces, piece) || slices.Contains(j.to, piece)
	})
}

// schedule draws a random order in which each piece follows what it hangs on.
// Most of what is asked beyond that agrees with it; otherwise nearly every kit
// would be a cycle.
func (g *draftGenerator) schedule() {
	n := len(g.joins) + len(g.wires) + len(g.tasks)
	g.when = slices.Repeat([]int{-1}, n)
	for place := 0; place < n; {
		if s := g.IntN(n); g.when[s] < 0 && g.seated(s) {
			g.when[s] = place
			place++
		}
	}
}

// seated tells whether what the step stands on has its place in the schedule.
func (g *draftGenerator) seated(step int) bool {
	for _, p := range g.standsOn(step) {
		if j := g.fitting(p); j >= 0 && j != step && g.when[j] < 0 {
			return false
		}
	}
	return true
}

func (d *draft) standsOn(step int) []int {
	if w := step - len(d.joins); w >= 0 && w < len(d.wires) {
		return append([]int{d.wires[w].from, d.wires[w].to}, d.wires[w].through...)
	} else if w >= 0 {
		return nil
	}
	if j := d.joins[step]; j.to == nil {
		return j.pieces
	}
	return d.joins[step].to
}

// fitting is the step that fits a piece, -1 for a base.
func (d *draft) fitting(piece int) int {
	return slices.IndexFunc(d.joins, func(j draftJoin) bool { return j.to != nil && slices.Contains(j.pieces, piece) })
}

// standing lists the steps after which a piece stands in the model: the one that
// fits it, or for a base piece the closings that name it.
func (d *draft) standing(piece int) (steps []int) {
	if s := d.fitting(piece); s >= 0 {
		return []int{s}
	}
	for s, j := range d.joins {
		if j.to == nil && slices.Contains(j.pieces, piece) {
			steps = append(steps, s)
		}
	}
	return steps
}

// addSeveral lets some fits go to several pieces. These make no tie.
func (g *draftGenerator) addSeveral() {
	for s := range g.joins {
		j := &g.joins[s]
		for j.to != nil && len(j.to) < 3 && g.chance(.1+g.several) {
			p := g.IntN(len(g.owner))
			if copies := g.parts[g.owner[j.to[0]]].pieces; g.chance(.2) {
				p = copies[len(copies)-1]
			}
			f := g.fitting(p)
			if g.isLoose(p) || slices.Contains(j.to, p) || slices.Contains(j.pieces, p) || f == s || f >= 0 && g.when[f] > g.when[s] && !g.chance(.05+g.wild) {
				break
			}
			j.to = append(j.to, p)
		}
	}
}

// addOrder adds what the designer asks beyond the ties.
func (g *draftGenerator) addOrder() {
	names := g.names()
	for s, n := 0, len(g.when); s < n; s++ {
		o := g.order(s)
		for g.chance(.15 + g.asked) {
			name := pickOne(g, names)
			steps := g.named(name)
			wild := g.chance(.2 * g.wild)
			switch {
			case wild && g.chance(.5), !wild && g.allWhen(steps, func(w int) bool { return w < g.when[s] }):
				o.after = append(o.after, name)
			case wild, g.allWhen(steps, func(w int) bool { return w > g.when[s] }):
				o.before = append(o.before, name)
			}
		}
		slices.Sort(o.after)
		slices.Sort(o.before)
		o.after, o.before = slices.Compact(o.after), slices.Compact(o.before)
	}
}

func (g *draftGenerator) allWhen(steps []int, ok func(when int) bool) bool {
	return !slices.ContainsFunc(steps, func(s int) bool { return !ok(g.when[s]) })
}

func (d *draft) order(step int) *draftOrder {
	if step < len(d.joins) {
		return &d.joins[step].draftOrder
	}
	step -= len(d.joins)
	if step < len(d.wires) {
		return &d.wires[step].draftOrder
	}
	return &d.tasks[step-len(d.wires)].draftOrder
}

// names lists what after and before may name.
func (d *draft) names() (names []string) {
	for s, n := 0, len(d.joins)+len(d.wires)+len(d.tasks); s < n; s++ {
		if name := d.order(s).step; name != "" {
			names = append(names, name)
		}
	}
	for _, w := range d.wires {
		names = append(names, w.id)
	}
	for _, p := range d.parts {
		if len(p.pieces) > 0 && d.named(p.id) != nil {
			names = append(names, p.id)
		}
		for _, piece := range p.pieces {
			if d.fitting(piece) >= 0 {
				names = append(names, d.pieceID(piece))
			}
		}
	}
	return names
}

// named lists the steps that a name in after or before means, nil if it is a
// piece, or one of several copies is, that no step fits.
func (d *draft) named(name string) (steps []int) {
	for s, n := 0, len(d.joins)+len(d.wires)+len(d.tasks); s < n; s++ {
		if d.order(s).step == name {
			return []int{s}
		}
	}
	for i, w := range d.wires {
		if w.id == name {
			return []int{len(d.joins) + i}
		}
	}
	for _, piece := range d.piecesOf(name) {
		s := d.fitting(piece)
		if s < 0 {
			return nil
		}
		steps = append(steps, s)
	}
	return steps
}

// piecesOf lists the pieces a name means: one, or all copies of a part.
func (d *draft) piecesOf(name string) []int {
	for _, p := range d.parts {
		if p.id == name {
			return p.pieces
		}
		for _, piece := range p.pieces {
			if d.pieceID(piece) == name {
				return []int{piece}
			}
		}
	}
	return nil
}

func (d *draft) pieceID(piece int) string {
	p := d.parts[d.owner[piece]]
	if len(p.pieces) == 1 {
		return p.id
	}
	return fmt.Sprint(p.id, ".", slices.Index(p.pieces, piece)+1)
}

// text writes the kit file.
func (d *draft) text() string {
	b := &strings.Builder{}
	b.WriteString("kit: Random\n")
	if d.cm {
		b.WriteString("units: cm\n")
	}
	if d.clearance != 1 {
		fmt.Fprintf(b, "clearance: %s\n", d.length(d.clearance))
	}
	b.WriteString(draftFixingText + "parts:\n")
	for _, p := range d.parts {
		fmt.Fprintf(b, "  %s: %s\n", p.id, d.partText(p))
	}
	b.WriteString("joins:\n")
	for _, j := range d.joins {
		fmt.Fprintf(b, "  - %s\n", d.joinText(j))
	}
	b.WriteString("spaces:\n")
	for _, s := range d.spaces {
		fmt.Fprintf(b, "  %s: %s\n", s.id, d.spaceText(s))
	}
	if len(d.wires) > 0 {
		b.WriteString("wires:\n")
	}
	for _, w := range d.wires {
		fmt.Fprintf(b, "  - %s\n", d.wireText(w))
	}
	if len(d.tasks) > 0 {
		b.WriteString("tasks:\n")
	}
	for _, t := range d.tasks {
		fmt.Fprintf(b, "  - %s\n", taskText(t))
	}
	return b.String()
}

// flowMapping writes a flow mapping from keys and values, without the empty ones.
func flowMapping(pairs ...string) string {
	var out []string
	for i := 0; i < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			out = append(out, pairs[i]+": "+pairs[i+1])
		}
	}
	return "{" + strings.Join(out, ", ") + "}"
}

// nameList writes nothing, one name, or a list of them.
func nameList(names []string) string {
	switch len(names) {
	case 0:
		return ""
	case 1:
		return names[0]
	}
	return "[" + strings.Join(names, ", ") + "]"
}

// pieceList names pieces one by one, or by their part where all of its copies
// follow one another.
func (d *draft) pieceList(pieces []int) string {
	var names []string
	for len(pieces) > 0 {
		part := d.parts[d.owner[pieces[0]]]
		if n := len(part.pieces); n > 1 && n <= len(pieces) && slices.Equal(pieces[:n], part.pieces) {
			names, pieces = append(names, part.id), pieces[n:]
			continue
		}
		names, pieces = append(names, d.pieceID(pieces[0])), pieces[1:]
	}
	return nameList(names)
}

func (d *draft) length(mm float64) string {
	if d.cm {
		mm /= 10
	}
	return strconv.FormatFloat(mm, 'f', -1, 64)
}

func (d *draft) lengths(mm []float64) string {
	if mm == nil {
		return ""
	}
	var out []string
	for _, l := range mm {
		out = append(out, d.length(l))
	}
	return "[" + strings.Join(out, ", ") + "]"
}

func (d *draft) partText(p draftPart) string {
	quantity := ""
	if len(p.pieces) > 1 {
		quantity = fmt.Sprint(len(p.pieces))
	}
	key, value, _ := strings.Cut(p.extra, ": ")
	return flowMapping("quantity", quantity, "size", d.lengths(p.size), "paint", p.paint, "class", p.class, key, value)
}

func (d *draft) joinText(j draftJoin) string {
	fit, shut := "", ""
	switch {
	case j.to == nil:
		shut = nameList([]string{d.pieceID(j.pieces[0]), d.pieceID(j.pieces[1])})
	case j.whole:
		fit = d.parts[d.owner[j.pieces[0]]].id
	default:
		fit = d.pieceID(j.pieces[0])
	}
	bench := ""
	if j.bench {
		bench = "true"
	}
	return flowMapping("fit", fit, "close", shut, "to", d.pieceList(j.to), "with", j.with, "bench", bench,
		"size", d.lengths(j.size), "opens", j.opens,
		"step", j.step, "after", nameList(j.after), "before", nameList(j.before))
}

func (d *draft) spaceText(s draftSpace) string {
	var closers []string
	for _, c := range s.shut {
		if c.opening == nil {
			closers = append(closers, c.by)
			continue
		}
		closers = append(closers, flowMapping("piece", c.by, "opening", d.lengths(c.opening), "facing", c.facing, "name", c.name))
	}
	inside := ""
	if s.inside >= 0 {
		inside = d.spaces[s.inside].id
	}
	return flowMapping("closed-by", "["+strings.Join(closers, ", ")+"]", "holds", nameList(s.holds), "inside", inside)
}

func (d *draft) wireText(w draftWire) string {
	var runs []string
	for _, s := range w.runsIn {
		runs = append(runs, d.spaces[s].id)
	}
	across := ""
	if w.across > 0 {
		across = d.length(w.across)
	}
	return flowMapping("wire", w.id, "from", d.pieceID(w.from), "to", d.pieceID(w.to), "through", d.pieceList(w.through),
		"runs-in", nameList(runs), "across", across, "after", nameList(w.after), "before", nameList(w.before))
}

func taskText(t draftTask) string {
	coat := ""
	if t.coat {
		coat = "outside"
	}
	return flowMapping("do", "Task", "coat", coat, "step", t.step, "after", nameList(t.after), "before", nameList(t.before))
}
