package plan

import (
	"slices"
	"strings"
	"unicode"

	"dryfit/kits"
)

// Cautions lists the usual cautions for the work a kit asks for, in our own words,
// each for a hazard that the kit has. They are common practice in the trade and no
// substitute for the supplier's safety data sheet, which comes first. Signal words
// are used by meaning, as ANSI Z535.6 does (from memory).
func Cautions(k *kits.Kit) []string {
	h := hazards(k)
	list := []string{"The supplier's safety data sheets and local rules come first; leave to licensed people what the law leaves to them."}
	for _, c := range cautions {
		if h[c.hazard] {
			list = append(list, c.text)
		}
	}
	return list
}

type hazard int

const (
	anyPart hazard = iota
	resinPrint
	cyanoacrylate
	epoxies
	solvents
	uvGlue
	sanding
	wiring
	magnets
	batteries
)

var cautions = []struct {
	hazard hazard
	text   string
}{
	{magnets, "WARNING. Small magnets: two that are swallowed can injure the gut and kill. Keep loose magnets from children, glue and seal them in; if one is swallowed get medical help at once."},
	{batteries, "WARNING. Battery: metal across the terminals can start a fire. Cap or tape the terminals while it is out of the model; button cells must be out of reach of children."},
	{solvents, "WARNING. Solvents, thinners, cement and spray: flammable, harmful vapour. No flame or spark, ventilate, wear a respirator suited to the product."},
	{resinPrint, "WARNING. Washing resin prints: alcohol vapour lights at room temperature. No flame or spark, lid on, ventilate."},
	{resinPrint, "CAUTION. Resin that is not cured can sensitise the skin. Wear nitrile gloves and eye protection, ventilate, cure waste before disposal by local rules."},
	{cyanoacrylate, "CAUTION. Superglue bonds skin and eyelids in seconds. Do not pull apart; soak in warm soapy water. It heats on cotton and tissue. With any in the eye, rinse and see a doctor."},
	{epoxies, "CAUTION. Epoxy can sensitise the skin. Wear gloves; mix small amounts, large ones get hot."},
	{uvGlue, "CAUTION. Resin as glue: gloves, eye protection from the lamp; what the light does not reach stays uncured."},
	{wiring, "CAUTION. Soldering: hot tip and fumes. Ventilate, use a stand, wash hands; never solder on a part that holds a magnet or a battery."},
	{sanding, "CAUTION. Sanding dust: sand wet, wear a dust mask (N95 or P2 at least)."},
	{anyPart, "CAUTION. Blades: fresh blade, cut away from the body, part on a mat, eye protection when clipping."},
}

// hazards finds out what a kit has, by its fixings and by words in its names.
func hazards(k *kits.Kit) map[hazard]bool {
	h := map[hazard]bool{anyPart: true, wiring: len(k.Wires) > 0}
	for _, p := range k.Parts {
		name := strings.ToLower(p.ID + " " + p.Name)
		h[resinPrint] = h[resinPrint] || p.Printed == "resin"
		h[magnets] = h[magnets] || strings.Contains(name, "magnet")
		h[batteries] = h[batteries] || strings.Contains(name, "batter") || strings.Contains(name, "button cell") || strings.Contains(name, "coin cell")
	}
	for _, j := range k.Joins {
		if j.Fixing == nil {
			continue
		}
		id := j.Fixing.ID
		h[cyanoacrylate] = h[cyanoacrylate] || id == "ca" || strings.HasPrefix(id, "ca-")
		h[epoxies] = h[epoxies] || strings.HasPrefix(id, "epoxy")
		h[solvents] = h[solvents] || id == "cement" || id == "solvent"
		h[uvGlue] = h[uvGlue] || id == "uv-resin"
		h[magnets] = h[magnets] || j.Fixing.Kind == kits.Magnet
	}
	for _, t := range k.Tasks {
		words := strings.FieldsFunc(strings.ToLower(t.Do), func(c rune) bool { return !unicode.IsLetter(c) })
		says := func(any ...string) bool {
			return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(any, w) })
		}
		h[solvents] = h[solvents] || t.Coat || says("paint", "painting", "spray", "varnish", "prime", "primer")
		h[sanding] = h[sanding] || says("sand", "sanding", "fill", "filler")
		h[wiring] = h[wiring] || says("solder", "soldering")
	}
	return h
}
