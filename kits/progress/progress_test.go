package progress_test

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/kitstest"
	"dryfit/kits/progress"
)

const boat = `kit: Boat
parts:
  hull-left: {number: H1, printed: resin, paint: before-close}
  hull-right: {printed: resin, paint: before-close}
  seat: {number: C3, printed: resin, quantity: 3, paint: before-fit}
  lamp: {bought: true}
  jig: {class: tooling}
joins:
  - {fit: seat, to: hull-left, step: seats}
  - {fit: lamp, to: hull-right}
  - {close: [hull-left, hull-right]}
wires:
  - {wire: lead, from: lamp, to: seat.1}
tasks:
  - {do: Test the lights, after: [lead]}
  - {do: Paint, step: coat}
  - {do: Wait}
  - {do: Wait}
`

func kit(t testing.TB) *kits.Kit {
	t.Helper()
	return kitstest.Read(t, boat)
}

func read(t testing.TB, text string) *progress.File {
	t.Helper()
	f, err := progress.Read("p.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// told is what a file says of the boat, in one line.
func told(k *kits.Kit, f *progress.File) string {
	p := f.Of(k)
	var list []string
	for i, s := range p.Pieces {
		if s != 0 {
			list = append(list, k.Pieces[i].ID+": "+s.String())
		}
	}
	for _, s := range progress.Steps(k) {
		if !s.IsFit() && p.Step(s.Join, s.Wire, s.Task) {
			list = append(list, s.Name)
		}
	}
	return strings.Join(list, "; ")
}

// What is read, and what is certain to have come before it.
func TestOf(t *testing.T) {
	k := kit(t)
	for _, c := range []struct{ text, want string }{
		{"", ""},
		{"# nothing yet\n", ""},
		{"pieces:\ndone:\n", ""},
		{"pieces: {lamp: printed}", "lamp: printed"},
		// Paint is on a clean print, and a clean print is one.
		{"pieces: {hull-left: painted}", "hull-left: printed, cleaned, painted"},
		{"pieces: {hull-left: [cleaned]}", "hull-left: printed, cleaned"},
		// What is painted by itself was so before it was fitted; what it is fitted to was
		// there and clean, painted or not.
		{"pieces: {seat.2: fitted}", "hull-left: printed, cleaned; seat.2: printed, cleaned, painted, fitted"},
		{"pieces: {lamp: fitted}", "hull-right: printed, cleaned; lamp: printed, cleaned, fitted"},
		// All copies, by the part, by its number, and one of them beside that.
		{"pieces: {C3: printed, seat.3: cleaned}", "seat.1: printed; seat.2: printed; seat.3: printed, cleaned"},
		// A closing and a wire hold pieces.
		{"done: closing hull-left on hull-right", "hull-left: printed, cleaned; hull-right: printed, cleaned; closing hull-left on hull-right"},
		{"done: [lead, coat]", "seat.1: printed, cleaned; lamp: printed, cleaned; lead; coat"},
		{`done: ["Test the lights"]`, "Test the lights"},
	} {
		if got := told(k, read(t, c.text)); got != c.want {
			t.Errorf("%s\ngot  %s\nwant %s", c.text, got, c.want)
		}
	}
}

// Names that the kit does not have are told, with the nearest, and do no harm.
func TestUnknown(t *testing.T) {
	f := read(t, "pieces: {hull-lef: printed, lead: fitted, jig: printed, lamp: cleaned}\ndone: [leed, seats, Wait, lamp]\n")
	want := []string{
		`p.yaml:1:10: the kit has no piece called "hull-lef", did you mean "hull-left"?`,
		`p.yaml:1:29: "lead" is a step, not a piece; write it under done`,
		`p.yaml:1:43: jig is tooling and is never part of the model`,
		`p.yaml:2:8: the kit has no closing, wire or task called "leed", did you mean "lead"?`,
		`p.yaml:2:14: "seats" fits pieces; mark those as fitted, under pieces`,
		`p.yaml:2:21: 2 tasks are called "Wait"; give each its own name in the kit file, with step`,
		`p.yaml:2:27: the kit has no closing, wire or task called "lamp"; it is a piece, and pieces have the states printed, cleaned, painted and fitted`,
	}
	if got := f.Of(kit(t)).Unknown.Error(); got != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", got, strings.Join(want, "\n"))
	}
	if got := told(kit(t), f); got != "lamp: printed, cleaned" {
		t.Errorf("got %s", got)
	}
}

// All that is wrong is told at once, each with its place.
func TestFaults(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"- seat", "p.yaml:1:1: must be a mapping with keys such as pieces, done, ticked, not a list of 1"},
		{"peices: {}\nseat: fitted", "p.yaml:1:1: unknown key \"peices\", did you mean \"pieces\"?\np.yaml:2:1: unknown key \"seat\"; known are pieces, done, ticked, tests, plates"},
		{"pieces: {seat: fited, lamp: [printed, printed], 7: fitted, a: , b: [], c: [[printed]], a: painted}",
			`p.yaml:1:16: pieces: seat: "fited" is not one of printed, cleaned, painted, fitted, did you mean "fitted"?
p.yaml:1:39: pieces: lamp: "printed" is given twice; remove one
p.yaml:1:49: pieces: a key must be text, not the number 7; put it in quotes
p.yaml:1:63: pieces: a: must be text, not nothing
p.yaml:1:68: pieces: b: must have 1 to 4 entries, not 0
p.yaml:1:76: pieces: c: must be text, not a list of 1
p.yaml:1:88: pieces: "a" is given twice; remove one`},
		{"pieces: [seat]\ndone: [lead, 5, lead, [x]]", `p.yaml:1:9: pieces: must be a mapping from pieces, not a list of 1
p.yaml:2:14: done: must be text, not the number 5; put it in quotes
p.yaml:2:17: done: "lead" is given twice; remove one
p.yaml:2:23: done: must be text, not a list of 1`},
		{"pieces: &a {}\n", "p.yaml:1:9: &a: anchors are not supported; write out the value"},
		{"pieces: {}\n---\ndone: []\n", "p.yaml:2:1: a second document starts here; a progress file has one document, so remove the line ---"},
		{"pieces: {\n", "p.yaml:1:1: is not YAML, near this line: did not find expected node content; look on this line and the next for an open { or [, a missing quote or comma, or other indentation; text with , : # or ' needs double quotes"},
	} {
		if _, err := progress.Read("p.yaml", []byte(c.text)); err == nil || err.Error() != c.want {
			t.Errorf("%s\ngot  %v\nwant %s", c.text, err, c.want)
		}
	}
}

// mark records by name and returns the file.
func mark(t testing.TB, k *kits.Kit, f *progress.File, undo bool, state string, names ...string) *progress.File {
	t.Helper()
	m, errs := progress.Find(k, state, names)
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	m.Undo = undo
	after, err := f.Mark(k, m)
	if err != nil {
		t.Fatalf("%v\n%s", err, f.Text())
	}
	return after
}

const byHand = `# My boat. Started in May.

pieces:
  # hull

  hull-left:   [printed, cleaned]   # from the shop
  # hull-right: on order

  # inside
  seat: printed
  old-part: fitted # gone since revision 2

  lamp:
    - printed # lit

# the rest

done:
  - lead # twice
  # more to come
`

// A file that was written by hand keeps its comments, its empty lines and its sequence.
func TestMarkKeeps(t *testing.T) {
	k := kit(t)
	f := read(t, byHand)
	f = mark(t, k, f, false, "painted", "hull-left")
	f = mark(t, k, f, false, "fitted", "seat.2", "lamp")
	f = mark(t, k, f, false, "printed", "hull-right")
	f = mark(t, k, f, false, "done", "Test the lights", "closing hull-left on hull-right")
	want := `# My boat. Started in May.

pieces:
  # hull

  hull-left: [printed, cleaned, painted] # from the shop
  # hull-right: on order

  # inside
  seat: printed
  old-part: fitted # gone since revision 2

  lamp:
    - printed # lit
    - fitted
  seat.2: [printed, fitted]
  hull-right: printed

# the rest

done:
  - lead # twice
  # more to come
  - Test the lights
  - closing hull-left on hull-right
`
	if got := string(f.Text()); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// What is there already is left as it stands, and taking back what was just recorded
// gives the file as it was.
func TestMarkTwiceAndBack(t *testing.T) {
	k := kit(t)
	f := mark(t, k, read(t, byHand), false, "cleaned", "seat.1")
	once := string(f.Text())
	if again := mark(t, k, f, false, "printed", "seat"); string(again.Text()) != once {
		t.Errorf("got\n%s\nwant\n%s", again.Text(), once)
	}
	f = mark(t, k, f, false, "done", "coat")
	f = mark(t, k, f, true, "done", "coat")
	if got := string(f.Text()); got != once {
		t.Errorf("got\n%s\nwant\n%s", got, once)
	}
}

// A new file says what it is, and groups the copies of a part.
func TestMarkNew(t *testing.T) {
	k := kit(t)
	f := mark(t, k, &progress.File{Name: "p.yaml"}, false, "printed", "C3", "lamp")
	f = mark(t, k, f, false, "done", "seats", "lead")
	want := `# How far Boat is printed and built: kept by dryfit mark, and safe to edit by hand.
# pieces: a piece, or a part for all its copies: printed, cleaned, painted, fitted
# done: closings, wires and tasks, by name
# ticked: items of last calls, ticked off on the page
# tests: test prints, the oldest first
# plates: plates of the printing plan, which keep their numbers
# The last line shows that the file is whole; an edit by hand may leave it as it is.
pieces:
  seat: [printed, fitted]
  lamp: printed
done:
  - lead
`
	if got := string(f.Text()); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// Taking back one copy leaves the others, and taking back a state takes back what
// implies it.
func TestUndo(t *testing.T) {
	k := kit(t)
	for _, c := range []struct{ text, state, name, want string }{
		{"pieces: {seat: fitted}", "fitted", "seat.2", "pieces: {seat.1: fitted, seat.2: [printed, cleaned, painted], seat.3: fitted}\n"},
		{"pieces: {seat: [printed, cleaned], seat.1: fitted}", "cleaned", "seat.1", "pieces: {seat: [printed], seat.2: [printed, cleaned], seat.3: [printed, cleaned]}\n"},
		{"pieces: {seat: printed}", "printed", "seat", "pieces: {}\n"},
		// Fitted implies painted for a seat, but not for a hull.
		{"pieces: {seat: fitted}", "painted", "seat", "pieces: {seat: [printed, cleaned]}\n"},
		{"pieces: {hull-left: [painted, fitted]}", "painted", "hull-left", "pieces: {hull-left: [printed, cleaned, fitted]}\n"},
		{"pieces: {lamp: printed}", "fitted", "lamp", "pieces: {lamp: printed}\n"},
	} {
		f := mark(t, k, read(t, c.text), true, c.state, c.name)
		if got := string(f.Text()); got != c.want {
			t.Errorf("%s without %s of %s: got %s want %s", c.text, c.state, c.name, got, c.want)
		}
	}
}

// Names that mean nothing are told, each.
func TestFind(t *testing.T) {
	for _, c := range []struct{ state, name, want string }{
		{"fited", "seat", `"fited" is not a state: write printed, cleaned, painted, fitted or done, did you mean "fitted"?`},
		{"fitted", "hull-lef", `the kit has no piece called "hull-lef", did you mean "hull-left"?`},
		{"fitted", "lead", `"lead" is a step, not a piece; write it under done`},
		{"done", "hull-left", `the kit has no closing, wire or task called "hull-left"; it is a piece, and pieces have the states printed, cleaned, painted and fitted`},
		{"done", "Test the light", `the kit has no closing, wire or task called "Test the light", did you mean "Test the lights"?`},
		{"done", "Wait", `2 tasks are called "Wait"; give each its own name in the kit file, with step`},
	} {
		if _, errs := progress.Find(kit(t), c.state, []string{c.name}); len(errs) != 1 || errs[0].Error() != c.want {
			t.Errorf("%s %s: got %v want %s", c.state, c.name, errs, c.want)
		}
	}
}

// A file that is not there says that nothing has been begun.
func TestReadFile(t *testing.T) {
	path := progress.Path(filepath.Join(t.TempDir(), "kit.yaml"))
	if filepath.Base(path) != "kit.progress.yaml" {
		t.Errorf("the file is %s", path)
	}
	if f, err := progress.ReadFile(path); err != nil || told(kit(t), f) != "" {
		t.Errorf("got %v, %v", f, err)
	}
	if err := os.WriteFile(path, []byte("pieces: {lamp: fitted}"), 0o600); err != nil {
		t.Fatal(err)
	}
	if f, err := progress.ReadFile(path); err != nil || !strings.Contains(told(kit(t), f), "lamp: printed, cleaned, fitted") {
		t.Errorf("got %v, %v", f, err)
	}
}

// Marks made at random, in files written in several ways, agree with a list of states
// kept beside them, and the file stays readable.
func TestMarksAgainstList(t *testing.T) {
	k := kit(t)
	starts := []string{"", byHand, "pieces: {seat: [printed], C3: cleaned, lamp: fitted}\ndone: lead\n", "done: []\n\n# end\n", "# x\n\n# y"}
	for seed := range 400 {
		r := rand.New(rand.NewPCG(5, uint64(seed)))
		f := read(t, starts[seed%len(starts)])
		want := f.Of(k)
		for range 12 {
			p, bit := r.IntN(len(k.Pieces)), r.IntN(4)
			names, pieces := []string{k.Pieces[p].ID}, []int{p}
			if r.IntN(3) == 0 {
				names, pieces = []string{k.Pieces[p].Part.ID}, k.Copies(k.Pieces[p].Part)
			}
			undo := r.IntN(3) == 0
			f = mark(t, k, f, undo, progress.StateNames()[bit], names...)
			got := f.Of(k)
			for _, q := range pieces {
				if has := got.Pieces[q]>>bit&1 == 1; has == undo && !held(k, got, q) {
					t.Fatalf("seed %d: %s of %v, undo %v:\n%s", seed, progress.StateNames()[bit], names, undo, f.Text())
				}
			}
			for q := range k.Pieces {
				if !slices.Contains(pieces, q) && got.Pieces[q] != want.Pieces[q] && !held(k, got, q) && !held(k, want, q) {
					t.Fatalf("seed %d: %s changed with %v:\n%s", seed, k.Pieces[q].ID, names, f.Text())
				}
			}
			want = got
		}
		if seed%len(starts) == 1 && strings.Count(string(f.Text()), "#") < 6 {
			t.Fatalf("comments are gone:\n%s", f.Text())
		}
	}
}

// held reports whether other pieces or steps say that a piece is clean.
func held(k *kits.Kit, p *progress.Progress, piece int) bool {
	for _, j := range k.Joins {
		for _, q := range j.Pieces {
			if slices.Contains(j.Onto, piece) && p.Pieces[q]&progress.Fitted != 0 {
				return true
			}
		}
	}
	for w := range p.Wires {
		if w.From == piece || w.To == piece {
			return true
		}
	}
	return false
}

// Whatever a progress file says, it is read or refused with places, and a mark in it is
// read again.
func FuzzRead(f *testing.F) {
	for _, s := range []string{byHand, "pieces: {seat: fitted}", "done: [lead]", "pieces:\n  seat: |\n\n    fitted\n", "? a\n: b\n", "\"pieces\": {\"lamp\": 'fitted'}"} {
		f.Add([]byte(s))
	}
	k := kit(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := progress.Read("p.yaml", data)
		if err != nil {
			return
		}
		m, _ := progress.Find(k, "fitted", []string{"seat.2"})
		after, err := file.Mark(k, m)
		if err != nil {
			return
		}
		if after.Of(k).Pieces[m.Pieces[0]]&progress.Fitted == 0 {
			t.Errorf("not marked:\n%s", after.Text())
		}
	})
}
