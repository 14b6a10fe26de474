package plan_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
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

// addPart adds a part with a number of pieces in the model and returns its
// number.
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
