package plan

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"dryfit/kits"
)

// Signal is how much a hazard matters. The words are used by meaning, as ANSI Z535.6
// does (from memory): a warning is of death or serious injury, a caution of minor
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
	{"magnets", Warning}, {"batteries", Warning}, {"solvents", Warning}, {"resin-washing", Warning}, {"small-parts", Warning},
	{"resin", Careful}, {"superglue", Careful}, {"epoxy", Careful}, {"resin-glue", Careful},
	{"soldering", Careful}, {"dust", Careful}, {"blades", Careful},
	{"magnet-heat", Notice}, {"glue-haze", Notice}, {"polarity", Notice},
}

// Hazards lists the hazards of a kit, by its fixings, by what its parts are and by
// words in its names.
func Hazards(k *kits.Kit) []Hazard {
	found := map[string]bool{"blades": true}
	for _, p := range k.Parts {
		found["resin"] = found["resin"] || p.Printed == "resin"
		mergeHazards(found, partHazards(p))
	}
	found["resin-washing"] = found["resin"]
	for _, s := range steps(k) {
		mergeHazards(found, workHazards(k, s))
	}
	found["magnet-heat"] = found["magnets"] && found["soldering"]
	return listHazards(found)
}

// StepHazards lists the hazards of one step.
func (r *Constraints) StepHazards(step int) []Hazard {
	s := r.Steps[step]
	found := workHazards(r.Kit, s)
	if s.Join != nil {
		for _, p := range s.Join.Pieces {
			h := partHazards(r.Kit.Pieces[p].Part)
			delete(h, "small-parts") // said once, at the front
			mergeHazards(found, h)
		}
		found["glue-haze"] = found["superglue"] && r.joinsClear(s.Join)
	}
	found["magnet-heat"] = found["magnets"] && found["soldering"]
	return listHazards(found)
}

func listHazards(found map[string]bool) []Hazard {
	var list []Hazard
	for _, h := range hazardList {
		if found[h.ID] {
			list = append(list, h)
		}
	}
	return list
}

func mergeHazards(all, more map[string]bool) {
	for id, is := range more {
		all[id] = all[id] || is
	}
}

// joinsClear reports whether a join is of a part that is kept clear.
func (r *Constraints) joinsClear(j *kits.Join) bool {
	return slices.ContainsFunc(slices.Concat(j.Pieces, j.Onto), func(p int) bool { return r.Kit.Pieces[p].Part.Paint == "masked" })
}

// The small parts cylinder of 16 CFR 1501.4: 31.7 mm across, up to 57.1 mm deep.
const smallAcross, smallDeep = 31.7, 57.1

// besideBattery are words for what goes with a battery and is none.
var besideBattery = []string{"magnet", "magnets", "hatch", "cradle", "clip", "holder", "box", "lead", "door", "cover", "lid", "panel", "strap", "contact", "spring"}

// partHazards are those of a part wherever it is.
func partHazards(p *kits.Part) map[string]bool {
	words := wordsOf(p.ID + " " + p.Name)
	has := func(some ...string) bool { return anyWord(words, some) }
	h := map[string]bool{
		"magnets":   has("magnet", "magnets"),
		"batteries": p.Printed == "" && (has("battery", "batteries") || has("cell", "cells") && has("button", "coin")) && !has(besideBattery...),
	}
	if p.Size != nil {
		s := p.Size.XYZ
		slices.Sort(s[:])
		h["small-parts"] = math.Hypot(s[0], s[1]) < smallAcross && s[2] < smallDeep
	}
	return h
}

// workHazards are those of the work of a step.
func workHazards(k *kits.Kit, s Step) map[string]bool {
	h := map[string]bool{}
	switch s.Kind {
	case Thread:
		h["soldering"], h["polarity"] = true, true
	case Task:
		words := wordsOf(s.Task.Do)
		has := func(some ...string) bool { return anyWord(words, some) }
		h["solvents"] = s.Task.Coat || has("paint", "painting", "spray", "varnish", "prime", "primer")
		h["dust"] = has("sand", "sanding", "fill", "filler")
		h["soldering"] = has("solder", "soldering")
		h["resin"] = has("cure", "wash", "resin") && slices.ContainsFunc(k.Parts, func(p *kits.Part) bool { return p.Printed == "resin" })
		h["resin-washing"] = h["resin"] && has("wash", "washing")
		h["blades"] = has("cut", "trim", "clip", "clean")
	default:
		h = fixingHazards(s.Join.Fixing)
		if note := wordsOf(s.Join.Note); anyWord(note, []string{"solder", "soldering", "iron"}) {
			h["soldering"] = true
		}
	}
	return h
}

func fixingHazards(f *kits.Fixing) map[string]bool {
	h := map[string]bool{}
	if f == nil {
		return h
	}
	h["superglue"] = f.ID == "ca" || strings.HasPrefix(f.ID, "ca-")
	h["epoxy"] = strings.HasPrefix(f.ID, "epoxy")
	h["solvents"] = f.ID == "cement" || f.ID == "solvent"
	h["resin-glue"] = f.ID == "uv-resin"
	h["soldering"] = f.ID == "solder"
	h["magnets"] = f.Kind == kits.Magnet
	return h
}

func wordsOf(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(c rune) bool { return !unicode.IsLetter(c) })
}

func anyWord(words, some []string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(some, w) })
}
