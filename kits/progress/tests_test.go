package progress_test

import (
	"slices"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/progress"
)

// The log grows at its end, keeps what people wrote beside it, and loses the last test of
// a part alone.
func TestLog(t *testing.T) {
	k := kit(t)
	f := read(t, "# mine\npieces:\n  seat: printed # one\n\ntests: # the log\n  - {part: seat, date: '2026-01-02', result: warped}\n")
	turn := [3]float64{45, 0, -90.5}
	want := []progress.Test{
		{Part: kits.Ref{Name: "seat"}, Date: "2026-01-02", Result: "warped"},
		{Part: kits.Ref{Name: "hull-left"}, Date: "2026-03-31", Result: "ok", Printer: "my-resin", Material: "resin", Turn: &turn,
			Note: "7: \"half\" # full, {no} 'more'", Mesh: "00123456"},
		{Part: kits.Ref{Name: "seat"}, Date: "2026-04-01", Result: "ok", Mesh: "1e10"},
	}
	f, err := f.Log(k, want[1:]...)
	if err != nil {
		t.Fatal(err)
	}
	compareTests(t, f, want)
	for _, kept := range []string{"# mine", "seat: printed # one\n\n", "tests: # the log"} {
		if !strings.Contains(string(f.Text()), kept) {
			t.Errorf("%q is lost\n%s", kept, f.Text())
		}
	}
	if f, err = f.Unlog(k, []*kits.Part{k.Parts[2]}); err != nil {
		t.Fatal(err)
	}
	compareTests(t, f, want[:2])
	if f, err = f.Mark(k, progress.Marks{State: progress.Printed, Pieces: []int{0}}); err != nil {
		t.Fatal(err)
	}
	compareTests(t, f, want[:2])
	same, err := f.Unlog(k, []*kits.Part{k.Parts[3]})
	if err != nil || !same.Same(f) {
		t.Errorf("without a test nothing is taken back: %v\n%s", err, same.Text())
	}
}

func compareTests(t *testing.T, f *progress.File, want []progress.Test) {
	t.Helper()
	if len(f.Tests) != len(want) {
		t.Fatalf("%d tests, want %d\n%s", len(f.Tests), len(want), f.Text())
	}
	for i, got := range f.Tests {
		w, g := want[i], *got
		if (g.Turn == nil) != (w.Turn == nil) || g.Turn != nil && *g.Turn != *w.Turn {
			t.Errorf("turn %v, want %v", g.Turn, w.Turn)
		}
		g.Turn, w.Turn, g.Part.Pos = nil, nil, kits.Pos{}
		if g != w {
			t.Errorf("%+v, want %+v\n%s", g, w, f.Text())
		}
	}
}

// A log that is wrong says where; a part that the kit does not have is told and ignored.
func TestLogFaults(t *testing.T) {
	for text, want := range map[string]string{
		"tests: [{part: seat, date: soon, result: ok}]":                         `p.yaml:1:28: tests: date: "soon" is not a date`,
		"tests: [{part: seat, date: '2026-13-99', result: ok}]":                 `p.yaml:1:28: tests: date: "2026-13-99" is not a date; write it like 2026-03-31`,
		"tests: [{part: seat, date: '2026-01-02', result: fine}]":               `"fine" is not one of ok, warped`,
		"tests: [{date: '2026-01-02', result: ok}]":                             "needs part",
		"tests: [{part: a, date: '2026-01-02', result: ok, turn: [1, 2]}]":      "must be a list of 3 numbers",
		"tests: [{part: a, date: '2026-01-02', result: ok, on: a, note: \"\"}]": `unknown key "on"`,
	} {
		_, err := progress.Read("p.yaml", []byte(text))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
	p := read(t, "tests: [{part: oar, date: '2026-01-02', result: ok}]").Of(kit(t))
	if len(p.Unknown) != 1 || !strings.Contains(p.Unknown.Error(), `p.yaml:1:16: the kit has no part called "oar"`) {
		t.Errorf("%v", p.Unknown)
	}
}

// What is printed goes by ids and numbers, of parts and of copies; what is not is refused.
func TestFindPrinted(t *testing.T) {
	k := kit(t)
	parts, pieces, errs := progress.FindPrinted(k, []string{"H1", "seat.2", "C3", "jig"})
	var ids []string
	for _, p := range parts {
		ids = append(ids, p.ID)
	}
	if len(errs) > 0 || !slices.Equal(ids, []string{"hull-left", "seat", "jig"}) || !slices.Equal(pieces, []string{"hull-left", "seat.2", "seat.1", "seat.3", "jig"}) {
		t.Errorf("%q, %q, %v", ids, pieces, errs)
	}
	_, _, errs = progress.FindPrinted(k, []string{"lamp", "seet", "coat"})
	if len(errs) != 3 || !strings.Contains(errs[0].Error(), "lamp is not printed") || !strings.Contains(errs[1].Error(), `did you mean "seat"`) {
		t.Errorf("%q", errs)
	}
}
