package plan

import (
	"math"
	"regexp"
	"slices"

	"dryfit/kits"
)

// Signal is how much a hazard matters. The words are used by meaning, as ANSI
// Z535.6-2011 does (from memory): a warning is of death or serious injury, a caution of minor
// injury, a notice of damage only.
type Signal string

// The signals. A model kit has nothing that would ask for a stronger word.
const (
	Warning Signal = "warning"
	Careful Signal = "caution"
	Notice  Signal = "notice"
)

// Hazard is something that can hurt the builder, or the model. What is said of it is
// for those to word who print it.
type Hazard struct {
	ID     string
	Signal Signal
}

// hazardList are all hazards known, those that matter most first (common practice in
// the trade).
var hazardList = []Hazard{
	{"magnets", Warning}, {"button-cells", Warning}, {"batteries", Warning}, {"lithium", Warning}, {"solvents", Warning},
	{"spray", Warning}, {"resin-washing", Warning}, {"lead", Warning}, {"small-parts", Warning},
	{"resin", Careful}, {"superglue", Careful}, {"epoxy", Careful}, {"resin-glue", Careful}, {"adhesive", Careful}, {"soldering", Careful},
	{"filament-fumes", Careful}, {"fibre", Careful}, {"dust", Careful}, {"blades", Careful},
	{"magnet-heat", Notice}, {"glue-haze", Notice}, {"polarity", Notice},
}

// hazards are ids of hazards.
type hazards map[string]bool

// add adds the hazards named if something is so.
func (h hazards) add(is bool, ids ...string) {
	for _, id := range ids {
		h[id] = h[id] || is
	}
}

func (h hazards) merge(more hazards) {
	for id, is := range more {
		h.add(is, id)
	}
}

// list lists the hazards, those that matter most first.
func (h hazards) list() []Hazard {
	h.add(h["magnets"] && h["soldering"], "magnet-heat")
	return slices.DeleteFunc(slices.Clone(hazardList), func(x Hazard) bool { return !h[x.ID] })
}

// Hazards lists the hazards of a kit, by its fixings, by what its parts are and by
// words in its names.
func Hazards(k *kits.Kit) []Hazard {
	return kitHazards(k, nearClear(k, nil)).list()
}

// Hazards lists the hazards of a kit, with those that the measured contacts add.
func (r *Constraints) Hazards() []Hazard { return slices.Clone(r.hazards()) }

func kitHazards(k *kits.Kit, nearClear []bool) hazards {
	found := hazards{"blades": true}
	for _, p := range k.Parts {
		found.add(p.Printed == kits.Resin, "resin", "resin-washing")
		found.add(p.Printed == kits.Filament && fumes(p.Material), "filament-fumes")
		found.add(p.Painted(), "solvents")
		found.merge(partHazards(p))
		found.merge(placesForCells(p))
	}
	for _, s := range steps(k) {
		found.merge(workHazards(k, s, nearClear))
	}
	found.add(len(k.Magnets) > 0, "magnets")
	found.add(k.Lights != nil, "batteries", "soldering", "polarity")
	found.add(k.Balance != nil && k.Balance.Ballast != nil && leadBallast(k.Balance.Ballast), "lead")
	return found
}

// Only keeps those of some hazards whose ids are named.
func Only(list []Hazard, ids ...string) []Hazard {
	return slices.DeleteFunc(slices.Clone(list), func(h Hazard) bool { return !slices.Contains(ids, h.ID) })
}

// StepHazards lists the hazards of one step. The list must not be changed.
func (r *Constraints) StepHazards(step int) []Hazard { return r.atSteps()[step] }

func (r *Constraints) findStepHazards() [][]Hazard {
	list := make([][]Hazard, len(r.Steps))
	for v := range list {
		list[v] = r.hazardsAt(v)
	}
	return list
}

func (r *Constraints) hazardsAt(step int) []Hazard {
	found := workHazards(r.Kit, r.Steps[step], r.nearClear())
	for _, p := range r.Steps[step].Pieces() {
		part := r.Kit.Pieces[p].Part
		found.merge(partHazards(part))
		found.add(part.PaintedAlone(), "solvents")
		found.add(stated(r.Kit, p), "magnets")
	}
	delete(found, "small-parts") // said once, at the front
	return found.list()
}

// stated reports whether the kit lists a piece among its magnets.
func stated(k *kits.Kit, piece int) bool {
	return slices.ContainsFunc(k.Magnets, func(m *kits.Magnets) bool { return slices.Contains(m.Pieces, piece) })
}

// The small parts cylinder of 16 CFR 1501.4 (from memory): 31.7 mm across, up to 57.1 mm
// deep.
const smallAcross, smallDeep = 31.7, 57.1

func isSmall(size [3]float64) bool {
	slices.Sort(size[:])
	return math.Hypot(size[0], size[1]) < smallAcross && size[2] < smallDeep
}

// partHazards are those of a part wherever it is.
func partHazards(p *kits.Part) hazards {
	h := named(nameOf(p), "magnets")
	h.add(p.Size != nil && isSmall(p.Size.XYZ), "small-parts")
	h.add(p.Made, "blades")
	if p.Printed != "" {
		h.add(p.Material != nil && fibrous.MatchString(p.Material.ID), "fibre")
		return h
	}
	h.merge(cellHazards(p))
	h.merge(named(nameOf(p), "fibre", "lead"))
	h.merge(named(p.Note, "lead"))
	h.add(p.Material != nil && p.Material.ID == "lead", "lead")
	return h
}

// workHazards are those of the work of a step.
func workHazards(k *kits.Kit, s Step, nearClear []bool) hazards {
	h := hazards{}
	switch s.Kind {
	case Thread:
		h.add(true, "soldering", "polarity", "blades")
	case Task:
		h = taskHazards(k, s.Task)
	default:
		h = fixingHazards(s.Join.Fixing)
		h.add(superglue.MatchString(s.Note()), "superglue")
	}
	h.merge(named(s.Note(), "superglue", "epoxy", "soldering", "spray", "dust", "blades"))
	h.add(s.Join != nil && h["superglue"] && fogs(k, s.Join, nearClear), "glue-haze")
	h.add(volatile.MatchString(plainLetters(s.Note())), "solvents")
	return h
}

func taskHazards(k *kits.Kit, t *kits.Task) hazards {
	h := named(t.Do, "magnets", "spray", "solvents", "lead", "superglue", "epoxy", "soldering", "fibre", "dust", "blades")
	h.add(superglue.MatchString(t.Do), "superglue")
	h.merge(cellsIn(t.Do))
	h.add(wordsOf(t.Do).any("clip", "clean"), "blades")
	h.add(t.Coat || h["spray"], "solvents")
	if slices.ContainsFunc(k.Parts, func(p *kits.Part) bool { return p.Printed == kits.Resin }) {
		h.merge(named(t.Do, "resin", "resin-washing"))
		h.add(h["resin-washing"], "resin")
	}
	return h
}

var (
	superglue = regexp.MustCompile(`\bCA\b`) // in capitals: in German ca. is about
	volatile  = regexp.MustCompile(liquids)
)

func fixingHazards(f *kits.Fixing) hazards {
	if f == nil {
		return hazards{}
	}
	h, id := named(f.ID, "superglue", "epoxy", "solvents", "soldering"), wordsOf(f.ID)
	h.add(id.any("ca"), "superglue")
	h.add(id.any("cement") || f.Kind == kits.Glue && id.any("plastic", "polystyrene"), "solvents")
	h.add(id.any("uv"), "resin-glue")
	h.add(f.Kind == kits.Glue && len(h.list()) == 0, "adhesive")
	h.add(f.Kind == kits.Magnet, "magnets")
	return h
}
