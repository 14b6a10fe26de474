package report

import (
	"dryfit/plan"
	"dryfit/plan/compare"
)

// CompareData is what a new revision changes.
type CompareData struct {
	Old      Revision        `json:"old"`      // the old kit
	New      Revision        `json:"new"`      // the new kit
	OK       bool            `json:"ok"`       // the new kit has no fault that the old one did not have
	Same     bool            `json:"same"`     // nothing differs
	Renamed  []Renamed       `json:"renamed"`  // parts with another id
	Changes  []Change        `json:"changes"`  // of the kit file
	Steps    StepChanges     `json:"steps"`    // of the sequence
	Prints   []PrintVerdict  `json:"prints"`   // whether each print can still be used
	Findings FindingsChanges `json:"findings"` // that are new or gone
}

// Revision is one of the two kits.
type Revision struct {
	Kit    string `json:"kit"`    // its name
	OK     bool   `json:"ok"`     // it has no fault
	Pieces int    `json:"pieces"` // how many
	Steps  int    `json:"steps"`  // how many
}

// Renamed is a part whose id changed.
type Renamed struct {
	Old string `json:"old"` // id in the old kit
	New string `json:"new"` // id in the new kit
	By  string `json:"by"`  // how it was recognised: number or mesh
}

// Change is a difference between the kit files.
type Change struct {
	Kind   string          `json:"kind"`   // kit, fixing, part, join, space, wire, task, service, balance, lights or magnets
	Name   string          `json:"name"`   // of what is changed
	What   compare.What    `json:"what"`   // how it differs
	Fields []compare.Field `json:"fields"` // that changed
}

// StepChanges are the differences of the two sequences.
type StepChanges struct {
	Known bool        `json:"known"` // both kits have a proven order
	Added []MovedStep `json:"added"` // only in the new sequence
	Gone  []MovedStep `json:"gone"`  // only in the old sequence
	Moved []MovedStep `json:"moved"` // in another place
}

// MovedStep is a step with its old and new place.
type MovedStep struct {
	Text string `json:"text"` // what is done
	Old  int    `json:"old"`  // number in the old sequence; 0 for none
	New  int    `json:"new"`  // number in the new sequence; 0 for none
}

// PrintVerdict says whether a print can still be used.
type PrintVerdict struct {
	Piece   string          `json:"piece"`        // its id
	Part    string          `json:"part"`         // id of its part
	Verdict compare.Verdict `json:"verdict"`      // whether the print stays good
	Why     string          `json:"why"`          // in words
	By      *[3]float64     `json:"by,omitempty"` // how far it has moved
}

// FindingsChanges are findings that only one of the kits has.
type FindingsChanges struct {
	New  []plan.Finding `json:"new"`  // only of the new kit
	Gone []plan.Finding `json:"gone"` // only of the old kit
}

func compareData(older, newer *plan.Project, c *compare.Comparison) CompareData {
	side := func(p *plan.Project) Revision {
		return Revision{p.Kit.Name, p.OK(), len(p.Kit.Pieces), len(p.Constraints.Steps)}
	}
	moves := func(list []compare.Step) []MovedStep {
		out := []MovedStep{}
		for _, s := range list {
			out = append(out, MovedStep(s))
		}
		return out
	}
	out := CompareData{
		Old: side(older), New: side(newer), OK: c.OK(), Same: c.Same(),
		Renamed: []Renamed{}, Changes: []Change{}, Prints: []PrintVerdict{},
		Steps:    StepChanges{c.Steps.Known, moves(c.Steps.Added), moves(c.Steps.Gone), moves(c.Steps.Moved)},
		Findings: FindingsChanges{complete(c.Findings.New), complete(c.Findings.Gone)},
	}
	for _, r := range c.Renamed {
		out.Renamed = append(out.Renamed, Renamed(r))
	}
	for _, ch := range c.Changes {
		out.Changes = append(out.Changes, Change{ch.Kind, ch.Name, ch.What, append([]compare.Field{}, ch.Fields...)})
	}
	for _, p := range c.Prints {
		out.Prints = append(out.Prints, PrintVerdict{p.Piece, p.Part, p.Verdict, p.Why, (*[3]float64)(p.By)})
	}
	return out
}
