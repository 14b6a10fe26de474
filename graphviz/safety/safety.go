// Package safety words the hazards of a kit as safety messages, in any language of the
// catalogue. All of them defer to the supplier's data sheets and local rules.
package safety

import (
	"dryfit/graphviz/document"
	"dryfit/graphviz/words"
	"dryfit/plan"
)

// Message is what to say of a hazard at the front, or in short before an action.
func Message(l words.Language, h plan.Hazard, short bool) document.Message {
	key := "hazard." + h.ID
	if short {
		key += ".short"
	}
	return document.Message{Signal: l.Signal(string(h.Signal)), Alert: h.Signal != plan.Notice, Text: l.Say(key), Short: short}
}

// Name is what a hazard is about, in a word or two.
func Name(l words.Language, h plan.Hazard) string { return l.Say("hazard." + h.ID + ".name") }

// Again is the line that names hazards which were worded before.
func Again(l words.Language, s plan.Signal, names []string) document.Message {
	return document.Message{Signal: l.Signal(string(s)), Alert: s != plan.Notice, Text: l.Say("hazards.again", "hazards", l.And(names)), Short: true}
}

// See is a line that points to the messages for hazards; empty for none.
func See(l words.Language, hazards []plan.Hazard) string {
	if len(hazards) == 0 {
		return ""
	}
	var names []string
	for _, h := range hazards {
		names = append(names, Name(l, h))
	}
	return l.Say("hazards.see", "hazards", l.And(names))
}

// Blocks are the messages for hazards, after what holds for all of them.
func Blocks(l words.Language, hazards []plan.Hazard, short bool) []document.Block {
	list := []document.Block{document.Text(l.Say("safety.intro"))}
	for _, h := range hazards {
		list = append(list, Message(l, h, short))
	}
	return list
}

// Texts are the same as plain text, each message with its signal word.
func Texts(l words.Language, hazards []plan.Hazard) []string {
	return append([]string{l.Say("safety.intro")}, texts(l, hazards, false)...)
}

// Shorts are the messages before an action, as plain text.
func Shorts(l words.Language, hazards []plan.Hazard) []string { return texts(l, hazards, true) }

func texts(l words.Language, hazards []plan.Hazard, short bool) []string {
	list := []string{}
	for _, h := range hazards {
		m := Message(l, h, short)
		list = append(list, m.Signal+". "+m.Text)
	}
	return list
}
