package booklet

import (
	"dryfit/graphviz/words"
	"dryfit/kits"
	"dryfit/kits/progress"
	"dryfit/plan/testprints"
)

// PrintNotes words what the test prints of a part mean for those who print it: the notes
// of prints of its present shape, and whether the last one was good. There is nothing to
// say of a part without test prints.
func PrintNotes(l words.Language, log *testprints.Log, p *kits.Part) []string {
	var list []string
	state := log.State(p)
	if state == testprints.Changed {
		return append(list, l.Say("print.changed"))
	}
	last := log.Last(p)
	for _, t := range log.Tests(p) {
		switch {
		case last.Mesh != t.Mesh:
		case t.Note == "" && t == last && state == testprints.Bad:
			list = append(list, l.Say("print.bad", "result", l.Say("print.result."+t.Result)))
		case t.Note == "":
		case t.Result == progress.ResultOK:
			list = append(list, l.Say("print.note", "note", t.Note))
		default:
			list = append(list, l.Say("print.note-bad", "note", t.Note, "result", l.Say("print.result."+t.Result)))
		}
	}
	return list
}
