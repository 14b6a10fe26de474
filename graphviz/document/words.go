package document

import (
	"strconv"
	"strings"

	"dryfit/graphviz/words"
)

// Words are the words that setting needs, in a language.
func Words(l words.Language) Fixed {
	return Fixed{Contents: l.Say("set.contents"), PageOf: l.Say("set.page-of"), Skip: l.Say("set.skip"),
		Step: l.Say("set.step"), Take: l.Say("set.take"), Off: l.Say("set.off"), Tick: l.Say("set.tick")}
}

// named is an item without its reference: "Crew seat, 2 off".
func (f Fixed) named(i Item) string {
	if i.Count < 1 {
		return i.Name
	}
	return i.Name + ", " + strings.ReplaceAll(f.Off, "{n}", strconv.Itoa(i.Count))
}

// taken words what is new in a step, an item a text.
func (f Fixed) taken(items []Item) []string {
	list := make([]string, len(items))
	for i, item := range items {
		list[i] = f.Take + ": " + item.Ref + " " + f.named(item)
	}
	return list
}
