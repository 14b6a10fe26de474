package kits

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// base is a small kit that is right; tests break it.
const base = `kit: Example
scale: "1:32"
parts:
  hull-left: {name: "Hull, left half", printed: resin}
  hull-right: {printed: resin}
  seat: {quantity: 2, size: [14, 12, 22]}
  lid: {printed: filament}
  jig: {class: tooling}
joins:
  - {fit: seat, to: hull-left, with: ca}
  - {close: [hull-left, hull-right], with: epoxy, step: closing}
  - {fit: lid, to: [hull-left, hull-right], with: magnet}
spaces:
  cabin: {closed-by: [hull-right, {piece: lid, opening: [20, 30], facing: z}, {opening: [5, 6], name: port}], holds: [seat]}
wires:
  - {wire: lead, from: seat.1, to: hull-right, runs-in: [cabin], across: 2}
tasks:
  - {do: Paint, step: coat, coat: outside, takes: 1h 30m, cure: 1d}
service:
  - {reach: seat.2, by-opening: [lid, port]}
printers:
  any: {process: resin, volume: [100, 60, 150]}
`

func TestReadResolves(t *testing.T) {
	k, err := Read("kit.yaml", []byte(base))
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, p := range k.Pieces {
		ids = append(ids, p.ID)
	}
	if got, want := strings.Join(ids, " "), "hull-left hull-right seat.1 seat.2 lid"; got != want {
		t.Errorf("pieces %q, want %q", got, want)
	}
	if j := k.Joins[2]; !j.Opens || j.IsClose() || len(j.Onto) != 2 || j.Fixing.Kind != Magnet {
		t.Errorf("the lid's join is %+v", j)
	}
	if k.Fitted(2) != k.Joins[0] || k.Fitted(0) != nil {
		t.Error("wrong joins fit the pieces")
	}
	if task := k.Tasks[0]; task.Takes != 90*time.Minute || task.Cure != 24*time.Hour || !task.Coat {
		t.Errorf("the task is %+v", task)
	}
	if c := k.Spaces[0].ClosedBy; len(c) != 3 || c[0].Opening != nil || c[1].Opening.Facing != "z" || c[2].Piece != -1 {
		t.Errorf("closers are %+v", c)
	}
	if k.Clearance != 1 {
		t.Errorf("clearance %g, want the default 1 mm", k.Clearance)
	}
}

func TestUnits(t *testing.T) {
	text := strings.Replace(base, "scale:", "units: in\nclearance: 0.1\nscale:", 1)
	k, err := Read("kit.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	near := func(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 }
	if s := k.Pieces[2].Part.Size.XYZ; !near(s[0], 14*25.4) {
		t.Errorf("size %v, want inches in mm", s)
	}
	if o := k.Spaces[0].ClosedBy[1].Opening; !near(o.H, 30*25.4) || !near(*k.Wires[0].Across, 2*25.4) || !near(k.Clearance, 2.54) {
		t.Errorf("opening %v, across %g, clearance %g", o, *k.Wires[0].Across, k.Clearance)
	}
}

// An entry of the name and kind of a built-in fixing changes what it says and keeps
// the rest.
func TestFixingOverride(t *testing.T) {
	k, err := Read("kit.yaml", []byte(strings.Replace(base, "parts:\n", "fixings: {epoxy: {kind: glue, handle: 6h}, ca: {kind: press}, tape: {kind: loose, opens: false}}\nparts:\n", 1)))
	if err != nil {
		t.Fatal(err)
	}
	if f := k.fixingOf["epoxy"]; f.Handle != 6*time.Hour || f.Cure != 24*time.Hour || f.Opens {
		t.Errorf("epoxy is %+v", f)
	}
	if f := k.fixingOf["ca"]; f.Handle != 0 || f.Cure != 0 {
		t.Errorf("ca, now of another kind, is %+v", f)
	}
	if f := k.fixingOf["tape"]; f.Opens {
		t.Errorf("tape is %+v", f)
	}
}

// Each fault of the file is reported at its place, with what to do.
func TestFaults(t *testing.T) {
	for _, c := range []struct{ name, old, now, want string }{
		{"unknown key", "printed: resin}\n  hull-right", "printed: resin, colouring: red}\n  hull-right", `4:56: parts: hull-left: unknown key "colouring"`},
		{"nearest key", "scale:", "scal:", `2:1: unknown key "scal", did you mean "scale"?`},
		{"unquoted comma", `{name: "Hull, left half", printed: resin}`, `{name: Hull, left half, printed: resin}`, "put that text in quotes"},
		{"wrong type", "quantity: 2", "quantity: two", `6:20: parts: seat: quantity: must be a number, not text`},
		{"octal", "quantity: 2", "quantity: 02", `plain decimal number`},
		{"hexadecimal", "quantity: 2", "quantity: 0x2", `plain decimal number`},
		{"fraction", "quantity: 2", "quantity: 2.5", "whole number"},
		{"not finite", "[14, 12, 22]", "[14, .inf, 22]", "plain decimal number"},
		{"negative", "[14, 12, 22]", "[14, -12, 22]", "more than 0"},
		{"text as number", "kit: Example", "kit: 1912", "1:6: kit: must be text, not the number 1912; put it in quotes"},
		{"date", "kit: Example", "kit: 2024-01-01", "not the date 2024-01-01; put it in quotes"},
		{"nothing", "kit: Example", "kit:", "must be text, not nothing"},
		{"missing", "kit: Example\n", "", "needs kit"},
		{"duplicate key", "scale:", "kit: Again\nscale:", `2:1: "kit" is given twice`},
		{"duplicate part", "  lid:", "  seat: {}\n  lid:", `"seat" is given twice`},
		{"bad id", "  lid: {printed", "  Lid: {printed", `"Lid" is not an id`},
		{"reserved id", "  jig:", "  con:", `"con" cannot be an id`},
		{"two origins", "printed: filament", "printed: filament, bought: true", "can have only one of printed, bought, made"},
		{"no such part", "to: hull-left, with", "to: hul-left, with", `10:21: to: no part is called "hul-left", did you mean "hull-left"?`},
		{"no such copy", "from: seat.1", "from: seat.3", "seat has quantity 2, so there is no seat.3"},
		{"several copies", "from: seat.1", "from: seat", "seat has 2 copies; name one, such as seat.1"},
		{"tooling", "fit: lid", "fit: jig", "jig is tooling and is never part of the model"},
		{"no such fixing", "with: ca", "with: cas", `no fixing is called "cas", did you mean "ca"?`},
		{"no such space", "runs-in: [cabin]", "runs-in: [cabins]", `no space is called "cabins", did you mean "cabin"?`},
		{"fit and close", "fit: lid, to", "fit: lid, close: [seat.1, lid], to", "can have only one of fit and close"},
		{"neither", "fit: lid, to: [hull-left, hull-right], ", "", "needs fit or close"},
		{"fit without to", "{fit: lid, to: [hull-left, hull-right],", "{fit: lid,", "fit needs to"},
		{"close three", "close: [hull-left, hull-right]", "close: [hull-left, hull-right, lid]", "must have exactly 2 entries"},
		{"facing alone", "{opening: [5, 6], name: port}", "{piece: lid, facing: x}", "facing needs opening"},
		{"fitted twice", "  - {fit: lid,", "  - {fit: seat.1, to: hull-right}\n  - {fit: lid,", "seat.1 is fitted a second time, first at kit.yaml:10:5"},
		{"ring", "  - {fit: lid,", "  - {close: [seat.1, hull-right]}\n  - {fit: lid,", "closes a ring: seat.1 - hull-left - hull-right - seat.1"},
		{"joined to itself", "to: hull-left, with: ca", "to: seat.1, with: ca", "seat.1 is joined to itself"},
		{"no such step", "step: coat,", "step: coat, after: [closin],", `no step, wire or piece is called "closin", did you mean "closing"?`},
		{"base", "step: coat,", "step: coat, after: [hull-left],", "no step fits hull-left, the base of its group; name a step instead"},
		{"step as part", "step: coat,", "step: lid,", `"lid" is the part at`},
		{"step twice", "step: coat,", "step: closing,", `"closing" already names the step at`},
		{"inside itself", "holds: [seat]", "holds: [seat], inside: cabin", "cabin is inside itself"},
		{"no closer", "by-opening: [lid, port]", "by-opening: [lid, door]", `"door" is neither a closer nor a named opening`},
		{"direction", "with: magnet", "with: magnet, toward: [0, 0, 0]", "is not a direction"},
		{"time", "takes: 1h 30m", "takes: soon", `"soon" is not a time`},
		{"scale of nothing", `scale: "1:32"`, `scale: "1:0"`, "is not a scale"},
		{"one number twice", "  lid: {printed", "  a: {number: H1}\n  lid: {number: H1, printed", `"H1" is already the number of a`},
		{"list of pieces", "fit: lid, to", "fit: [lid, seat], to", "write an entry for each part"},
		{"one copy or all", "  - {fit: lid,", "  - {fit: seat.2, to: hull-right}\n  - {fit: lid,", "seat means all its copies, name one such as seat.2"},
		{"tab", "parts:\n", "parts:\n\tx: {}\n", "look for a tab"},
		{"long time", "takes: 1h 30m", "takes: 9999999999d", "longer than 366d"},
		{"scale", `scale: "1:32"`, `scale: "32"`, `is not a scale`},
		{"scale as time", `scale: "1:32"`, `scale: 1:32`, ``}, // yaml 1.2 reads it as text
		{"path out", "kit: Example", "kit: Example\nmeshes: ../parts", "leads out of the kit's folder"},
		{"absolute path", "kit: Example", "kit: Example\nmeshes: /parts", "is an absolute path"},
		{"reserved path", "kit: Example", "kit: Example\nmeshes: parts/NUL", "not a file name on every system"},
		{"pair", "quantity: 2,", "quantity: 2, pair: lid,", "seat has quantity 2 and its mirror image lid has 1"},
		{"held twice", "holds: [seat]", "holds: [seat, seat.2]", "seat.2 is given twice"},
		{"anchor", "[14, 12, 22]", "&size [14, 12, 22]", "anchors are not supported"},
		{"alias", "[14, 12, 22]", "*size", "is not YAML"},
		{"merge", "{quantity: 2,", "{<<: {}, quantity: 2,", "merge keys are not supported"},
		{"tag", "kit: Example", "kit: !!str Example", "tags are not supported"},
		{"control character", "kit: Example", `kit: "Ex\e[31mample"`, "control character U+001B"},
		{"right to left override", "kit: Example", `kit: "Ex\u202Eample"`, "control character U+202E"},
		{"two documents", "printers:", "---\nprinters:", "a second document starts here"},
		{"syntax", "kit: Example", `kit: "Example`, "is not YAML"},
		{"not a mapping", base, "- a\n- b\n", "must be a mapping"},
		{"empty", base, "", "is empty"},
		{"comment only", base, "# nothing\n", "is empty"},
		{"not UTF-8", "Example", "Ex\xffample", "1:8: is not UTF-8"},
		{"deep", "printers:\n", "printers:\n  deep: {a: " + strings.Repeat("[", 30) + strings.Repeat("]", 30) + "}\n", "nested more than 16 deep"},
		{"deeper", "printers:\n", "printers:\n  deep: {a: " + strings.Repeat("[", 3000) + strings.Repeat("]", 3000) + "}\n", "nested more than 1000 deep"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(base, c.old, c.now, 1)
			if text == base {
				t.Fatalf("%q is not in the kit", c.old)
			}
			_, err := Read("kit.yaml", []byte(text))
			switch {
			case c.want == "" && err != nil:
				t.Errorf("want no error, got\n%v", err)
			case c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)):
				t.Errorf("want an error with %q, got\n%v", c.want, err)
			}
		})
	}
}

// All faults of a file are reported, in its sequence, not the first alone; and a
// name that stands in a faulty entry is still known.
func TestAllFaultsTogether(t *testing.T) {
	text := `kit: Example
parts:
  a: {size: [1, 2]}
  b: {bogus: 1}
joins:
  - {fit: b, to: a, with: nothing, step: first}
  - {fit: c, to: a, after: [first]}
tasks:
  - {do: X, takes: 5, after: [first, last]}
`
	want := []string{
		"3:13: parts: a: size: must be a list of 3 numbers",
		`4:7: parts: b: unknown key "bogus"`,
		`6:27: with: no fixing is called "nothing"`,
		`7:11: fit: no part is called "c"`,
		"9:20: tasks: takes: must be text, not the number 5",
		`9:38: after: no step, wire or piece is called "last"`,
	}
	_, err := Read("kit.yaml", []byte(text))
	if err == nil {
		t.Fatal("no error")
	}
	lines := strings.Split(err.Error(), "\n")
	if len(lines) != len(want) {
		t.Fatalf("want %d faults, got\n%v", len(want), err)
	}
	for i, w := range want {
		if !strings.HasPrefix(lines[i], "kit.yaml:"+w) {
			t.Errorf("fault %d: want %q, got %q", i+1, w, lines[i])
		}
	}
}

// Files made to be slow or large end in a clear error, without much memory: the
// limits are checked before the YAML parser makes anything of them.
func TestHostileFiles(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"50 MB":               {"kit: x\n#" + strings.Repeat("x", 50<<20), "larger than 4 MB"},
		"a million keys":      {"kit: x\nparts:\n" + strings.Repeat("  a: 1\n", 500_000), "more than 400000 values and lines"},
		"many values":         {"kit: [" + strings.Repeat("a,", 1_000_000) + "a]", "more than 400000 values and lines"},
		"alias bomb":          {"kit: x\na: &a [x,x]\nb: &b [*a,*a]\nc: [*b,*b,*b]\n", "anchors are not supported"},
		"deep blocks":         {strings.Repeat("- ", 9000) + "x", "nested more than 16 deep"},
		"deeper blocks":       {strings.Repeat("- ", 30000) + "x", ""},
		"deep mappings":       {deepMapping(2000), "nested more than 16 deep"},
		"long line":           {"kit: " + strings.Repeat("x", 3<<20), "longer than 2000 characters"},
		"many pieces":         {"kit: x\nparts:\n  a: {quantity: 20000}\n  b: {quantity: 20000}\n", "more than 20000 pieces"},
		"many copies named":   {"kit: x\nparts: {h: {}, a: {quantity: 19000}}\njoins: [{fit: a, to: h}]\ntasks:\n" + strings.Repeat("- {do: look, after: a}\n", 9000), "stand for more than 200000 pieces"},
		"many openings asked": {"kit: x\nparts: {h: {}, a: {quantity: 19000}, b: {}}\njoins: [{fit: a, to: h}, {fit: b, to: h}]\nspaces: {s: {closed-by: [a], holds: [b]}}\nservice:\n" + strings.Repeat("- {reach: b, by-opening: a}\n", 9000), "stand for more than 200000 pieces"},
		"spaces in spaces":    {"kit: x\nparts: {h: {}, a: {}}\njoins: [{fit: a, to: h}]\nspaces:\n  s0: {closed-by: [a]}\n" + nestedSpaces(9000), "nested in more than 16 spaces"},
		"many faults":         {"kit: x\nparts:\n" + manyFaults(15_000), "unknown key"},
		"self alias":          {"kit: &a [*a]", ""},
		"comments":            {"kit: x\n" + strings.Repeat("# c\n", 300_000) + "parts: {}\n", ""},
		"complex keys":        {"kit: x\n? [a, b]\n: c\n", "a key must be text"},
		"nul":                 {"kit: x\x00y", ""},
		"only brackets":       {strings.Repeat("[", 5000), "nested more than 1000 deep"},
		"unterminated string": {"kit: \"" + strings.Repeat("a ", 500_000), ""},
	} {
		t.Run(name, func(t *testing.T) {
			k, err := Read("kit.yaml", []byte(c.text))
			if err == nil && name != "comments" {
				t.Fatalf("want an error, got kit %q", k.Name)
			}
			if err != nil && !strings.Contains(err.Error(), c.want) {
				t.Errorf("want an error with %q, got %.300v", c.want, err)
			}
		})
	}
}

func deepMapping(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	return b.String()
}

func nestedSpaces(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "  s%d: {closed-by: [a], inside: s%d}\n", i+1, i)
	}
	return b.String()
}

// Copies named one by one count one by one.
func TestManyCopiesNamedSingly(t *testing.T) {
	text := "kit: x\nparts: {h: {}, a: {quantity: 5000}}\njoins:\n"
	for i := range 5000 {
		text += fmt.Sprintf("- {fit: a.%d, to: h}\n", i+1)
	}
	if _, err := Read("kit.yaml", []byte(text)); err != nil {
		t.Errorf("want no fault, got %.300v", err)
	}
}

func manyFaults(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString("  p" + strings.Repeat("i", i%7) + string(rune('a'+i%26)) + string(rune('a'+i/26%26)) + string(rune('a'+i/676%26)) + string(rune('a'+i/17576)) + ": {bogus: 1}\n")
	}
	return b.String()
}

func TestFind(t *testing.T) {
	dir := t.TempDir()
	if _, err := ReadFile(dir); err == nil || !strings.Contains(err.Error(), "has no kit.yaml") {
		t.Errorf("an empty folder: %v", err)
	}
	if _, err := ReadFile(filepath.Join(dir, "none")); err == nil || !strings.Contains(err.Error(), "no such file") {
		t.Errorf("no such folder: %v", err)
	}
	file := filepath.Join(dir, FileName)
	if err := os.WriteFile(file, []byte(base), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{dir, file} {
		if k, err := ReadFile(path); err != nil || k.File != file {
			t.Errorf("%s: %v", path, err)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(base))
	f.Add([]byte("kit: x\nparts: {a: {}, b: {quantity: 3}}\njoins: [{fit: b, to: a}]\n"))
	f.Add([]byte("kit: x\nspaces: {s: {closed-by: [a], inside: s}}\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		k, err := Read("kit.yaml", data)
		if (k == nil) == (err == nil) {
			t.Fatalf("kit %v with error %v", k, err)
		}
		if err == nil {
			return
		}
		if said := strings.ReplaceAll(err.Error(), "\n", " "); Plain(said) != said {
			t.Fatalf("control characters in %q", said)
		}
	})
}
