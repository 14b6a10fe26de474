package plan

import (
	"regexp"

	"dryfit/kits"
)

// Cells are told by name, by voltage, or by their codes in IEC 60086-2 and the usual sizes
// of rechargeable ones (from memory, edition not looked up). LR03, LR6, LR14 and LR20 are
// no button cells. Button cells coded CR, BR and LIR are lithium cells as well.
var (
	cellName = regexp.MustCompile(`\b(?:battery|batteries|accumulators?|\w*batterien?|\w*akkus?|akkumulator(?:en)?)\b|\b(?:akku|batterie)-?(?:pack|bloeck|block|zelle|halter|fach|kasten|klappe|deckel)|` +
		`\bmignon|\b9[ -]?v(?:olt)?[ -]block\b|\b(?:aaa?|alkaline|rechargeable|dry|zinc[ -](?:air|carbon)|silver[ -]oxide|\d(?:[.,]\d)? ?v) cells?\b|` +
		`\bcells? (?:aaa?|\d?l?r\d+|\d(?:[.,]\d)? ?v)\b|\bzellen? (?:aaa?|\d(?:[.,]\d)? ?v)\b|\b\d ?x ?aaa?\b|\bni-?(?:mh|cd)\b|\b6(?:f22|lr61)\b|\bpower ?bank`)
	buttonCell = regexp.MustCompile(`\bknopf-?(?:zelle|batterie)|\buhrenbatterie|\b(?:button|coin)[ -](?:cells?|battery|batteries)|\b(?:watch|hearing[ -]aid) batter|` +
		`\b(?:silver[ -]oxide|zinc[ -]air) cells?\b|\b(?:cr|br|lir)[ -]?\d{4}\b|\b[ls]r[ -]?(?:4\d|5\d|\d{3,4})(?:h|sw|w)?\b|\bag[ -]?\d{1,2}\b`)
	lithiumCell = regexp.MustCompile(`\blithium|\bli[ -]?(?:po(?:s|ly\w*)?|ion\w*|polymer\w*|hv|fepo4)\b|\bpouch cells?\b|\bpower ?bank|\br?cr123a?\b|\bcr2\b|` +
		`\b(?:cr|br|lir)[ -]?\d{4}\b|\b(?:i[cnm]r)?(?:10440|14500|16340|18350|18500|18650|20700|21700|26650)\b|\b(?:cells?|zellen?) 3[.,][67] ?v\b|\b3[.,][67] ?v (?:cells?|zellen?)\b`)
)

// besideCell are words for what goes with a cell and is none.
var besideCell = []string{"magnet", "magnets", "hatch", "cradle", "clip", "holder", "box", "lead", "door", "cover", "lid", "panel", "strap", "contact", "spring",
	"halter", "halterung", "fach", "klappe", "deckel", "kasten", "kabel", "knopfzellenhalter", "batteriehalter", "akkuhalter", "batteriefach", "akkufach", "batteriekasten", "batterieklappe", "batteriedeckel"}

// together parts a name into the things it names: a holder with a cell is both.
var together = regexp.MustCompile(`\b(?:with|and|including|plus|in|mit|und|samt|im)\b|;`)

// cellHazards are those of a part that is, or comes with, a cell.
func cellHazards(p *kits.Part) hazards { return cellsIn(nameOf(p)) }

// cellsIn are the hazards of the cells that a text names.
func cellsIn(text string) hazards {
	h := hazards{}
	for _, thing := range together.Split(plainLetters(text), -1) {
		if !wordsOf(thing).any(besideCell...) {
			h.merge(cellsNamed(thing))
		}
	}
	return h
}

// placesForCells are the hazards of the cells that a part is a place for: a kit with a
// holder has a cell, listed or not.
func placesForCells(p *kits.Part) hazards {
	if text := nameOf(p) + " ; " + p.Note; wordsOf(text).any(besideCell...) {
		return cellsNamed(text)
	}
	return nil
}

func cellsNamed(text string) hazards {
	text = soundAlike.ReplaceAllString(plainLetters(text), " ; ")
	h, button, lithium := hazards{}, buttonCell.MatchString(text), lithiumCell.MatchString(text)
	h.add(button, "button-cells")
	h.add(lithium, "lithium")
	h.add(button || lithium || cellName.MatchString(text), "batteries")
	return h
}
