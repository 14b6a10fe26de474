package plan

import (
	"cmp"
	"slices"
	"strings"

	"dryfit/kits"
)

// Grade says how much a finding matters.
type Grade string

// A fault must be fixed; a caution should be reviewed; a note is for information.
const (
	Fault   Grade = "fault"
	Caution Grade = "caution"
	Note    Grade = "note"
)

// Kinds of findings.
const (
	Unreachable = "unreachable" // there is no way in, even with nothing in the way
	Trapped     = "trapped"     // every way in is shut before its turn, in every order
	Cycle       = "cycle"       // steps wait for one another
	Loose       = "loose"       // no join ties it to the rest
	WireEnd     = "wire"        // a wire or its end does not pass a hole
	Serviceable = "service"     // cannot be reached on the finished model
	Turning     = "turning"     // goes in only by turning
	Reopened    = "reopened"    // something must be opened again on the way
	FragileIn   = "fragile"     // breakable outside detail must go on early
	Unchecked   = "unchecked"   // no step fits it, so nothing is proven of it
	Uncoated    = "uncoated"    // painted with or after a coat that the kit lacks
	Behind      = "behind"      // waits for a trapped piece
	Untried     = "untried"     // not all repairs were tried
	Blocked     = "blocked"     // another piece is in the way of its travel
	Times       = "time"        // planned before what it rests on has set
	Clashes     = "clash"       // two pieces are in the same place
	OnePlace    = "one-place"   // several pieces stand in the same place
	Meshes      = "mesh"        // the meshes and the kit file disagree, or a mesh is ill
	Printing    = "printing"    // it fits no printer, or cannot be planned
	Layers      = "layers"      // layers too large, or that grow too fast
	Supports    = "supports"    // a part that is badly held while it is printed
	Balances    = "balance"     // it balances in the wrong place, or its ballast has no room
	Lights      = "lights"      // lamps that go dark, or take more than they should
	Magnets     = "magnets"     // magnets that repel, or do not fit their pockets
	Rehearsal   = "rehearsal"   // the order or the work schedule cannot be replayed
	Limit       = "limit"       // it takes too much work to find out
	Release     = "release"     // what a kit lacks before it can go out to builders
)

// Finding is one thing the designer should know.
type Finding struct {
	Kind    string   `json:"kind"`             // of the fault; dryfit help findings lists them
	Grade   Grade    `json:"grade"`            // how much it matters
	Piece   string   `json:"piece,omitempty"`  // id of the first piece concerned
	Pieces  []string `json:"pieces,omitempty"` // ids of all of them, when there are several
	Step    string   `json:"step,omitempty"`   // name of the step concerned
	Text    string   `json:"text"`             // what was found
	Because []Reason `json:"because"`          // what it rests on
	Repairs []Repair `json:"repairs"`          // single changes that fix it

	// Steps are the indices of the steps concerned.
	Steps []int    `json:"-"`
	Pos   kits.Pos `json:"-"` // its position in the file, by which findings are sorted
}

// NewFinding makes a finding that rests on nothing and has no repairs yet. Other
// packages make findings like this:
//
//	plan.NewFinding(plan.Lights, plan.Caution, text).About(ids...).Placed(pos).Since(fact, pos).Suggest(change)
func NewFinding(kind string, g Grade, text string) Finding {
	return Finding{Kind: kind, Grade: g, Text: text, Because: []Reason{}, Repairs: []Repair{}}
}

// About names the pieces or parts that a finding concerns.
func (f Finding) About(ids ...string) Finding {
	f.Piece, f.Pieces = ids[0], nil
	if len(ids) > 1 {
		f.Pieces = ids
	}
	return f
}

// At sets the name and the index of the step that a finding concerns.
func (f Finding) At(name string, step int) Finding {
	f.Step, f.Steps = name, []int{step}
	return f
}

// Since adds a statement or a fact that the finding rests on, with its position
// in the file.
func (f Finding) Since(text string, at kits.Pos) Finding {
	f.Because = append(f.Because, ReasonAt(text, at))
	return f
}

// Suggest adds changes that were not tried.
func (f Finding) Suggest(changes ...string) Finding {
	for _, text := range changes {
		f.Repairs = append(f.Repairs, Repair{Text: text})
	}
	return f
}

// Fix adds changes that were tried and work.
func (f Finding) Fix(changes ...string) Finding {
	for _, text := range changes {
		f.Repairs = append(f.Repairs, Repair{Text: text, Tried: true})
	}
	return f
}

// Placed sets the position of a finding in the file, by which findings are
// sorted.
func (f Finding) Placed(at kits.Pos) Finding {
	f.Pos = at
	return f
}

// Reason is one of the statements a finding rests on.
type Reason struct {
	Text string `json:"text"`         // the statement or the fact
	At   string `json:"at,omitempty"` // position: file:line:column
	// Pieces are those in the way, or named by the statement, where known.
	Pieces   []string `json:"pieces,omitempty"`     // ids of those in the way or named, where known
	InTheWay []string `json:"in_the_way,omitempty"` // ids of those of them that are in the way of what the finding is about
}

// Same reports whether two reasons are the same statement of the kit.
func (r Reason) Same(other Reason) bool { return r.Text == other.Text && r.At == other.At }

func ReasonAt(text string, at kits.Pos, pieces ...string) Reason {
	return Reason{Text: text, At: at.String(), Pieces: pieces}
}

// Blames says which pieces are in the way.
func (r Reason) Blames(ids ...string) Reason {
	r.InTheWay = ids
	return r
}

// Repair is a single change that fixes the finding: either tried by solving
// again, or advice that only the designer can try.
type Repair struct {
	Text  string `json:"text"`            // the change, in words
	Tried bool   `json:"tried,omitempty"` // the kit was solved again with it
}

// Subject is what a finding is about, by id. Findings with equal subjects are the
// same finding, even if their words or numbers differ.
type Subject struct {
	Kind   string
	Grade  Grade
	Piece  string
	Pieces string // joined by spaces
	Step   int    // the first; -1 if there is none
}

// Subject is what the finding is about.
func (f Finding) Subject() Subject {
	s := Subject{f.Kind, f.Grade, f.Piece, strings.Join(f.Pieces, " "), -1}
	if len(f.Steps) > 0 {
		s.Step = f.Steps[0]
	}
	return s
}

// CountOf counts the findings of a list that have a grade.
func CountOf(list []Finding, g Grade) int {
	n := 0
	for _, f := range list {
		if f.Grade == g {
			n++
		}
	}
	return n
}

// ByGrade compares findings for sorting: faults come first, then cautions, then notes.
func ByGrade(a, b Finding) int {
	rank := []Grade{Fault, Caution, Note}
	return slices.Index(rank, a.Grade) - slices.Index(rank, b.Grade)
}

// SortFindings puts faults first, then cautions, then notes, each by position in
// the file.
func SortFindings(list []Finding) {
	slices.SortStableFunc(list, func(a, b Finding) int {
		return cmp.Or(
			ByGrade(a, b),
			cmp.Compare(a.Pos.Line, b.Pos.Line),
			cmp.Compare(a.Pos.Col, b.Pos.Col),
			cmp.Compare(a.Kind, b.Kind),
			cmp.Compare(a.Piece, b.Piece),
		)
	})
}

// MergeCopies merges findings that say the same about the copies of a part: the
// same kind, and the same text but for the number of the copy. Roots stay
// separate, since each has its own cause.
func MergeCopies(list []Finding) []Finding {
	type same struct{ kind, part, text string }
	first := map[same]int{}
	var out []Finding
	for _, f := range list {
		part, _, several := strings.Cut(f.Piece, ".")
		if !several || len(f.Pieces) > 0 || f.Kind == Trapped || f.Kind == Loose {
			out = append(out, f)
			continue
		}
		key := same{f.Kind, part, strings.ReplaceAll(f.Text, f.Piece, part)}
		i, known := first[key]
		if !known {
			first[key] = len(out)
			out = append(out, f)
			continue
		}
		g := &out[i]
		if len(g.Pieces) == 0 {
			g.Pieces = []string{g.Piece}
			g.Text = strings.ReplaceAll(g.Text, g.Piece, part+" (several copies)")
		}
		g.Pieces = append(g.Pieces, f.Piece)
	}
	return out
}
