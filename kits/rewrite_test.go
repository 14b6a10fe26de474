package kits_test

import (
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/kits/kitstest"
)

const small = `# a kit
kit: "Small"   # its name
scale: '1:32'
units: cm
parts:
  hull: {printed: resin, size: [ 10,  4.50, 3 ], note: "10 long"} # ten
  tiny:
    printed: resin
    mass: 1.5
    size:
      - 0.02
      - .5   # half
      - 1e1
  rod: {bought: true, fixed-size: true, size: [20, 0.4, 0.4]}
joins:
  - {fit: tiny, to: hull, size: [1, 2, 3]}
  - {fit: rod, to: hull, size: [20, 1, 1]}
spaces:
  inside: {closed-by: [{opening: [2, 3], facing: z}], holds: tiny}
wires:
  - {wire: lead, from: hull, to: tiny, across: 0.1, hole: 0.4}
balance: {along: x, support: -5, margin: 1, ballast: rod, at: 0, room: 2}
magnets: [{magnet: rod, north: [0, 0, 1], pocket: [0.5, 0.2]}]
printers: {p: {process: resin, volume: [10, 10, 10], layer: 0.005}}
`

// What a kit file becomes is known to the byte.
func TestRewrite(t *testing.T) {
	want := strings.NewReplacer(
		"'1:32'", `"1:16"`,
		"[ 10,  4.50, 3 ]", "[ 20,  9, 6 ]",
		"- 0.02", "- 0.04", "- .5 ", "- 1 ", "- 1e1", "- 20",
		"to: hull, size: [1, 2, 3]", "to: hull, size: [2, 4, 6]",
		"[2, 3], facing", "[4, 6], facing",
		"hole: 0.4", "hole: 0.8",
		"support: -5, margin: 1", "support: -10, margin: 2", "room: 2", "room: 16",
		"[0.5, 0.2]", "[1, 0.4]", "mass: 1.5", "mass: 12",
	).Replace(small)
	crlf := func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") }
	for name, c := range map[string]struct{ old, want string }{
		"plain":            {small, want},
		"carriage returns": {crlf(small), crlf(want)},
		"marked":           {"\uFEFF" + small, "\uFEFF" + want},
	} {
		got, err := kits.Rewrite("kit.yaml", []byte(c.old), mustScale(t, "200%", "1:32"))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if string(got) != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", name, got, c.want)
		}
	}
}

// The comment about meshes stands above them, or at the beginning; a second rescaling
// replaces it.
func TestRewriteMeshes(t *testing.T) {
	note := "# Rescaled: export the meshes again at 50 % of their size at 1:8; those of fixed-size parts keep their size, at their new positions.\n"
	for _, c := range []struct{ old, want string }{
		{"kit: A\nscale: \"1:8\"\nmeshes: parts # folder\nparts: {a: {size: [2, 2, 2]}}\n", "kit: A\nscale: \"1:16\"\n" + note + "meshes: parts # folder\nparts: {a: {size: [1, 1, 1]}}\n"},
		{"{kit: A, scale: \"1:8\", meshes: parts,\nparts: {a: {size: [2, 2, 2]}}}", note + "{kit: A, scale: \"1:16\", meshes: parts,\nparts: {a: {size: [1, 1, 1]}}}"},
		{"meshes: parts\nkit: A\nscale: 1:8\nparts: {a: }\n", note + "meshes: parts\nkit: A\nscale: \"1:16\"\nparts: {a: }\n"},
	} {
		once, err := kits.Rewrite("kit.yaml", []byte(c.old), mustScale(t, "50%", "1:8"))
		if err != nil {
			t.Fatal(err)
		}
		if string(once) != c.want {
			t.Errorf("got\n%s\nwant\n%s", once, c.want)
		}
		twice, err := kits.Rewrite("kit.yaml", once, mustScale(t, "1:8", "1:16"))
		if err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(string(twice), "# Rescaled: "); n != 1 || !strings.Contains(string(twice), "at 200 % of their size at 1:16") {
			t.Errorf("%d comments about meshes in\n%s", n, twice)
		}
	}
}

var digits = regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)

// The demonstration kit keeps its lines, and its comments to the byte; there and back
// again every number is what it was, to within the rounding.
func TestRewriteDemonstrationKit(t *testing.T) {
	old := string(demo.Kit)
	rewritten, err := kits.Rewrite("kit.yaml", demo.Kit, mustScale(t, "1:48", "1:32"))
	if err != nil {
		t.Fatal(err)
	}
	a, b := strings.Split(old, "\n"), strings.Split(string(rewritten), "\n")
	if len(a) != len(b) {
		t.Fatalf("%d lines became %d", len(a), len(b))
	}
	changed := 0
	for i := range a {
		if a[i] == b[i] {
			continue
		}
		changed++
		if digits.ReplaceAllString(a[i], "0") != digits.ReplaceAllString(b[i], "0") {
			t.Errorf("more than numbers changed in line %d:\n%s\n%s", i+1, a[i], b[i])
		}
		if _, x, _ := strings.Cut(a[i], "# "); !strings.HasSuffix(b[i], x) {
			t.Errorf("the comment of line %d changed:\n%s\n%s", i+1, a[i], b[i])
		}
	}
	if changed < 100 || changed > len(a)-50 {
		t.Errorf("%d of %d lines changed", changed, len(a))
	}
}

// Rescaled by a, and back by 1/a, every length is what it was, to within the rounding of
// the file; and what stands in the file is what the kit is taken to be.
func TestThereAndBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, text := range []string{string(demo.Kit), small} {
		was := kitstest.Read(t, text)
		rounding := 0.005
		if was.Unit.MM > 1 {
			rounding = 0.0005 * was.Unit.MM
		}
		for range 20 {
			s := kits.Scaling{Factor: math.Exp(rng.Float64()*2 - 1), From: was.Scale}
			s.To = "1:40"
			there, err := kits.Rewrite("kit.yaml", []byte(text), s)
			if err != nil {
				t.Fatal(err)
			}
			taken, err := kits.ReadScaled("kit.yaml", []byte(text), s)
			if err != nil {
				t.Fatal(err)
			}
			near(t, lengths(kitstest.Read(t, string(there))), lengths(taken), rounding)
			back := kits.Scaling{Factor: 1 / s.Factor, From: "1:40", To: was.Scale}
			again, err := kits.Rewrite("kit.yaml", there, back)
			if err != nil {
				t.Fatal(err)
			}
			near(t, lengths(kitstest.Read(t, string(again))), lengths(was), rounding*(1+1/s.Factor))
		}
	}
}

func TestRewriteRefuses(t *testing.T) {
	_, err := kits.Rewrite("kit.yaml", []byte("kit: A\nscale: \"1\\u003a8\"\nparts: {a: {}}\n"), mustScale(t, "50%", "1:8"))
	if err == nil || !strings.Contains(err.Error(), `line 2: "1:8" cannot be replaced`) {
		t.Errorf("an escape in the scale: %v", err)
	}
	_, err = kits.Rewrite("kit.yaml", []byte("kit: A\nparts: {a: {size: [900000, 1, 1]}}\n"), mustScale(t, "5000%", ""))
	if err == nil || !strings.Contains(err.Error(), "at 5000 % it would no longer be a valid kit file: kit.yaml:2:20") {
		t.Errorf("a size beyond all bounds: %v", err)
	}
}

// Every readable file can be rewritten, or the error says why not; it then reads
// back with the lengths that it is taken to have.
func FuzzRewrite(f *testing.F) {
	f.Add([]byte(small), 2.0)
	f.Add(demo.Kit, 0.667)
	f.Add([]byte("{kit: a, meshes: b, parts: {c: , d: {size: [1, 2, 3]}}}"), 3.0)
	f.Fuzz(func(t *testing.T, text []byte, factor float64) {
		k, err := kits.Read("kit.yaml", text)
		if err != nil || !(factor >= 0.01 && factor <= 100) {
			return
		}
		s := kits.Scaling{Factor: factor, From: k.Scale, To: k.Scale}
		if k.Scale != "" {
			s.To = "1:7"
		}
		out, err := kits.Rewrite("kit.yaml", text, s)
		if err != nil {
			return
		}
		taken, err := kits.ReadScaled("kit.yaml", text, s)
		if err != nil {
			t.Fatal(err)
		}
		near(t, lengths(kitstest.Read(t, string(out))), lengths(taken), 0.0051*k.Unit.MM)
	})
}

// lengths are all lengths of a kit, in the sequence of the file.
func lengths(k *kits.Kit) []float64 {
	list := []float64{k.Clearance}
	for _, p := range k.Parts {
		if p.Size != nil {
			list = append(list, p.Size.XYZ[:]...)
		}
	}
	for _, j := range k.Joins {
		if j.Size != nil {
			list = append(list, j.Size.XYZ[:]...)
		}
	}
	for _, s := range k.Spaces {
		for _, c := range s.ClosedBy {
			if c.Opening != nil {
				list = append(list, c.Opening.W, c.Opening.H)
			}
		}
	}
	for _, m := range k.Magnets {
		if m.Pocket != nil {
			list = append(list, m.Pocket.Diameter, m.Pocket.Depth)
		}
	}
	if k.Lights != nil {
		for _, b := range k.Lights.Branches {
			list = append(list, b.Length)
		}
	}
	if b := k.Balance; b != nil {
		list = append(list, b.Support, b.Margin)
		if b.At != nil {
			list = append(list, *b.At)
		}
		if b.Inside != nil {
			list = append(list, b.Inside.XYZ[:]...)
		}
	}
	for _, w := range k.Wires {
		for _, x := range []*float64{w.Across, w.Hole} {
			if x != nil {
				list = append(list, *x)
			}
		}
	}
	return list
}

func near(t *testing.T, got, want []float64, within float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d lengths, want %d", len(got), len(want))
	}
	for i := range got {
		if math.Abs(got[i]-want[i]) > within+1e-9 {
			t.Fatalf("length %d is %g, want %g to within %g", i, got[i], want[i], within)
		}
	}
}
