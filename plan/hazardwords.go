package plan

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"dryfit/kits"
)

// words are the words of a text in lower case, without digits and signs.
type words []string

func wordsOf(text string) words {
	return strings.FieldsFunc(plainLetters(text), func(c rune) bool { return !unicode.IsLetter(c) })
}

func (w words) any(some ...string) bool {
	return slices.ContainsFunc(w, func(x string) bool { return slices.Contains(some, x) })
}

// pair reports whether a word of first stands right before one of then.
func (w words) pair(first, then []string) bool {
	for i := range len(w) - 1 {
		if slices.Contains(first, w[i]) && slices.Contains(then, w[i+1]) {
			return true
		}
	}
	return false
}

// fibre reports carbon or glass fibre. Carbon and glass alone are many things.
func (w words) fibre() bool {
	stock := []string{"rod", "rods", "tube", "tubes", "strip", "strips", "spar", "spars", "sheet", "plate", "fibre", "fiber"}
	return w.any("fibreglass", "fiberglass", "cfrp", "gfrp") || w.any("carbon") && w.any(stock...) ||
		w.pair([]string{"glass"}, []string{"fibre", "fiber", "cloth", "mat"})
}

// lead reports the metal. Lead alone may be a wire.
func (w words) lead() bool {
	forms := []string{"shot", "ballast", "weight", "weights", "sheet", "pellets", "balls"}
	return w.pair([]string{"lead"}, forms) || w.pair(forms, []string{"lead"})
}

// leadBallast reports lead where it can be no wire: in the name of ballast.
func leadBallast(p *kits.Part) bool {
	text := wordsOf(p.ID + " " + p.Name)
	return text.any("lead") && !text.pair([]string{"lead"}, []string{"free"})
}

// fuming are words for materials whose fumes irritate when they are printed.
var fuming = []string{"abs", "asa", "hips", "nylon", "pa", "polycarbonate", "pc"}

func fumes(m *kits.Material) bool { return m != nil && wordsOf(m.ID).any(fuming...) }

// Cells are told by name, or by their codes in IEC 60086-2 and the usual sizes of
// rechargeable ones (from memory, edition not looked up). LR03, LR6, LR14 and LR20 are no button cells.
var (
	cellName    = regexp.MustCompile(`\b(?:battery|batteries|accumulators?|\w*batterien?|\w*akkus?|akkumulator(?:en)?)\b`)
	buttonCell  = regexp.MustCompile(`\b(?:knopfzellen?|(?:button|coin)[ -](?:cells?|battery|batteries)|(?:cr|br)\d{4}|[ls]r(?:4\d|5\d|\d{3,4})|ag\d{1,2})\b`)
	lithiumCell = regexp.MustCompile(`\b(?:lithium\w*|lipos?|li-?ion|li[ -](?:ion|po|poly|polymer)|lifepo4|r?cr123a?|cr2|14500|16340|18350|18650|21700|26650)\b`)
)

// besideCell are words for what goes with a cell and is none.
var besideCell = []string{"magnet", "magnets", "hatch", "cradle", "clip", "holder", "box", "lead", "door", "cover", "lid", "panel", "strap", "contact", "spring",
	"halter", "halterung", "fach", "klappe", "deckel", "kasten", "kabel"}

// together parts a name into the things it names: a holder with a cell is both.
var together = regexp.MustCompile(`\b(?:with|and|including|plus|mit|und|samt)\b`)

// cellHazards are those of a part that is, or comes with, a cell.
func cellHazards(p *kits.Part) hazards { return cellsIn(p.ID + " " + p.Name) }

// cellsIn are the hazards of the cells that a text names.
func cellsIn(text string) hazards {
	h := hazards{}
	for _, thing := range together.Split(plainLetters(text), -1) {
		if wordsOf(thing).any(besideCell...) {
			continue
		}
		button, lithium := buttonCell.MatchString(thing), lithiumCell.MatchString(thing)
		h.add(button, "button-cells")
		h.add(lithium, "lithium")
		h.add(button || lithium || cellName.MatchString(thing), "batteries")
	}
	return h
}
