package document

import "dryfit/graphviz/words"

// Words are the words that setting needs, in a language.
func Words(l words.Language) Fixed {
	return Fixed{Contents: l.Say("set.contents"), PageOf: l.Say("set.page-of"), Skip: l.Say("set.skip"),
		Step: l.Say("set.step"), Tick: l.Say("set.tick")}
}
