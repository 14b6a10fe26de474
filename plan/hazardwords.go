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

// named are those of some hazards that a text names, in English or German: a kit does not
// say what language it is in.
func named(text string, ids ...string) hazards {
	h := hazards{}
	if text == "" {
		return h // as most notes are
	}
	text = soundAlike.ReplaceAllString(plainLetters(text), " ; ")
	for _, id := range ids {
		for _, language := range []map[string]*regexp.Regexp{inEnglish, inGerman} {
			if words := language[id]; words != nil {
				h.add(words.MatchString(text), id)
			}
		}
	}
	return h
}

// nameOf is what a part is called, without phrases from the end of its id into its name.
func nameOf(p *kits.Part) string { return p.ID + " ; " + p.Name }

// leadBallast reports lead where it can be no wire: in the name of ballast.
func leadBallast(p *kits.Part) bool {
	text := soundAlike.ReplaceAllString(plainLetters(nameOf(p)), " ; ")
	return wordsOf(text).any("lead")
}

// fuming are words for materials whose fumes irritate when they are printed.
var fuming = []string{"abs", "asa", "hips", "polystyrene", "nylon", "pa", "polyamide", "polyamid", "polycarbonate", "pc", "pom", "acetal", "pvc"}

func fumes(m *kits.Material) bool { return m != nil && wordsOf(m.ID).any(fuming...) }

// fibrous reports a material that is filled with fibre.
var fibrous = regexp.MustCompile(`(?:^|[^a-z])(?:pa(?:ht)?)?\d*[cg]f\d*(?:$|[^a-z])|[ck]arbon|fib(?:re|er)|faser`)
