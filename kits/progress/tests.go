package progress

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"gopkg.in/yaml.v3"

	"dryfit/kits"
	"dryfit/kits/format"
	"dryfit/kits/plain"
)

// Words for the states of a print, beside those of pieces.
const (
	Tested = "tested" // it was printed to try it
	Failed = "failed" // the print came to nothing
)

// ResultOK is the result of a test print that is good. All others ask for another.
const ResultOK = "ok"

// results are the words for the result of a test print.
var results = []string{ResultOK, "warped", "rough", "too-tight", "too-loose", "broken", Failed}

// Results lists the words for the result of a test print, the good one first.
func Results() []string { return slices.Clone(results) }

// Test is a test print of a part.
type Test struct {
	Part     kits.Ref    // its id
	Date     string      // year-month-day
	Result   string      // one of [Results]
	Printer  string      // id; empty if not known
	Material string      // id; empty if not known
	Turn     *[3]float64 // degrees about x, then y, then z, from the model; nil if not known
	Note     string      // for those who print it next
	Mesh     string      // hash of the content of its mesh; empty without a mesh
}

// maxTests limits the log.
const maxTests = 10_000

var testShape = format.Object(nil, []format.Field[Test]{
	format.Key("part", format.Name(format.AnyText), func(t *Test) *kits.Ref { return &t.Part }, "the id of the part").Must(),
	format.Key("date", dateShape, func(t *Test) *string { return &t.Date }, "when it was printed").Must(),
	format.Key("result", format.Choice(results...), func(t *Test) *string { return &t.Result }, "how the print is").Must(),
	format.Key("printer", format.Words, func(t *Test) *string { return &t.Printer }, "the id of the printer"),
	format.Key("material", format.Words, func(t *Test) *string { return &t.Material }, "the id of the material"),
	format.Key("turn", format.Mapped(format.Numbers(3, format.Coordinate, "[x, y, z]"), func(n format.Placed[[]float64]) *[3]float64 { return (*[3]float64)(n.Value) }),
		func(t *Test) **[3]float64 { return &t.Turn }, "degrees about x, then y, then z"),
	format.Key("note", format.Words, func(t *Test) *string { return &t.Note }, "a note for the next print"),
	format.Key("mesh", format.Words, func(t *Test) *string { return &t.Mesh }, "the content of the mesh"),
})

var dateShape = format.Words.Then(func(s string) string {
	if err := CheckDate(s); err != nil {
		return err.Error()
	}
	return ""
})

// CheckDate says what is wrong with a date as people write it.
func CheckDate(s string) error {
	if _, err := time.Parse(time.DateOnly, s); err != nil {
		return fmt.Errorf("%q is not a date; write it like 2026-03-31", plain.Text(s))
	}
	return nil
}

// FindPrinted resolves the names of what is printed: a piece, tooling or a spare, or a part
// for all its copies but the spares, by id or number. Each part is named once; ids are those
// of all copies that are meant. There is an error for each name that is unknown, or not of a
// print.
func FindPrinted(k *kits.Kit, list []string) (parts []*kits.Part, ids []string, errs []error) {
	aside, err := k.Aside()
	if err != nil {
		return nil, nil, []error{err}
	}
	n := namesOf(k)
	add := func(pc kits.Piece) {
		if !slices.Contains(parts, pc.Part) {
			parts = append(parts, pc.Part)
		}
		if !slices.Contains(ids, pc.ID) {
			ids = append(ids, pc.ID)
		}
	}
	for _, name := range list {
		known := false
		for _, pc := range aside {
			whole := !pc.Part.InModel() && pc.Copy > 0 && (pc.Part.ID == name || pc.Part.Number != "" && pc.Part.Number == name)
			if whole || pc.ID == name {
				known = true
				add(pc)
			}
		}
		if known {
			continue
		}
		found, err := n.piece(name)
		if err == nil && !k.Pieces[found[0]].Part.ToPrint() {
			err = fmt.Errorf("%s is not printed: the kit says that it is bought or made", plain.Text(name))
		}
		if err != nil {
			errs = append(errs, err)
			continue
		}
		for _, p := range found {
			add(k.Pieces[p])
		}
	}
	return parts, ids, errs
}

// Log returns the file with test prints added to its log. The error says that it cannot
// be edited safely.
func (f *File) Log(k *kits.Kit, tests ...Test) (*File, error) {
	return f.relog(k, append(slices.Clone(f.Tests), pointers(tests)...), func(n *yaml.Node) {
		for i := range tests {
			n.Content = append(n.Content, tests[i].node())
		}
	})
}

// Unlog returns the file without the last test print of each of some parts.
func (f *File) Unlog(k *kits.Kit, parts []*kits.Part) (*File, error) {
	left := slices.Clone(f.Tests)
	var gone []int
	for _, p := range parts {
		for i := len(left) - 1; i >= 0; i-- {
			if left[i].Part.Name == p.ID {
				left, gone = slices.Delete(left, i, i+1), append(gone, i)
				break
			}
		}
	}
	return f.relog(k, left, func(n *yaml.Node) {
		for _, i := range gone {
			remove(n, i, 1)
		}
	})
}

// relog edits the log, and checks that it then says what is wanted and that nothing else
// has changed.
func (f *File) relog(k *kits.Kit, want []*Test, edit func(*yaml.Node)) (*File, error) {
	if len(want) == len(f.Tests) {
		return f, nil
	}
	return f.edited(k, func(e *editor) { edit(e.under("tests", yaml.SequenceNode)) }, func(after *File) bool {
		return slices.EqualFunc(after.Tests, want, sameTest) && len(after.Pieces) == len(f.Pieces) && len(after.Done) == len(f.Done) && len(after.Plates) == len(f.Plates)
	})
}

func pointers(list []Test) []*Test {
	out := make([]*Test, len(list))
	for i := range list {
		out[i] = &list[i]
	}
	return out
}

// sameTest compares tests but for their positions in the file.
func sameTest(a, b *Test) bool {
	x, y := *a, *b
	turns := x.Turn == nil && y.Turn == nil || x.Turn != nil && y.Turn != nil && *x.Turn == *y.Turn
	x.Turn, y.Turn, x.Part.Pos, y.Part.Pos = nil, nil, kits.Pos{}, kits.Pos{}
	return x == y && turns
}

// node is a test as written, on one line.
func (t *Test) node() *yaml.Node {
	n := &yaml.Node{Kind: yaml.MappingNode, Style: yaml.FlowStyle}
	put := func(key string, value *yaml.Node) { n.Content = append(n.Content, word(key), value) }
	for _, v := range []struct{ key, text string }{{"part", t.Part.Name}, {"date", t.Date}, {"result", t.Result}, {"printer", t.Printer}, {"material", t.Material}} {
		if v.text != "" {
			put(v.key, word(v.text))
		}
	}
	if t.Turn != nil {
		list := &yaml.Node{Kind: yaml.SequenceNode, Style: yaml.FlowStyle}
		for _, v := range t.Turn {
			list.Content = append(list.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: strconv.FormatFloat(v, 'f', -1, 64)})
		}
		put("turn", list)
	}
	if t.Note != "" {
		put("note", word(t.Note))
	}
	if t.Mesh != "" {
		put("mesh", word(t.Mesh))
	}
	return n
}
