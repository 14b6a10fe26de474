package kits_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"dryfit/kits"
)

// Print percentages from one usual scale (row) to another (column), in the sequence of
// usual: 100 times the quotient of the two (arithmetic; typed out and rounded by hand).
var (
	usual = []float64{12, 18, 24, 32, 35, 48, 72, 144}
	table = [8][8]float64{
		{100, 66.7, 50, 37.5, 34.3, 25, 16.7, 8.3},
		{150, 100, 75, 56.2, 51.4, 37.5, 25, 12.5},
		{200, 133.3, 100, 75, 68.6, 50, 33.3, 16.7},
		{266.7, 177.8, 133.3, 100, 91.4, 66.7, 44.4, 22.2},
		{291.7, 194.4, 145.8, 109.4, 100, 72.9, 48.6, 24.3},
		{400, 266.7, 200, 150, 137.1, 100, 66.7, 33.3},
		{600, 400, 300, 225, 205.7, 150, 100, 50},
		{1200, 800, 600, 450, 411.4, 300, 200, 100},
	}
	// A person of 1.75 m at those scales, mm (arithmetic).
	person = [8]float64{145.8, 97.2, 72.9, 54.7, 50.0, 36.5, 24.3, 12.2}
)

func TestScaleTable(t *testing.T) {
	for i, from := range usual {
		for j, to := range usual {
			s := mustScale(t, fmt.Sprintf("1:%g", to), fmt.Sprintf("1:%g", from))
			if math.Abs(100*s.Factor-table[i][j]) > 0.0501 {
				t.Errorf("from 1:%g to 1:%g is %s, want %g %%", from, to, s.Percent(), table[i][j])
			}
		}
		if got := kits.FigureHeight(1.75, from); math.Abs(got-person[i]) > 0.0501 {
			t.Errorf("a person of 1.75 m at 1:%g stands %g mm, want %g", from, got, person[i])
		}
	}
}

// A model at 1:36 enlarged to 150 % is 1:24, at which a person of 1.80 m stands 75 mm
// (arithmetic).
func TestEnlarged(t *testing.T) {
	s := mustScale(t, "150 %", "1:36")
	if s.To != "1:24" || s.Percent() != "150 %" {
		t.Errorf("150 %% of 1:36 is %s at %s, want 1:24", s.To, s.Percent())
	}
	if tall := kits.FigureHeight(1.80, s.Ratio()); math.Abs(tall-75) > 1e-9 {
		t.Errorf("a person of 1.80 m stands %.2f mm, want 75", tall)
	}
}

// Whether a length scales must be decided for each: a new key with a length fails here
// until it is listed, and in Kit.scaling if it scales.
func TestEveryLengthIsDecided(t *testing.T) {
	scales := map[string]bool{"parts size": true, "joins size": true, "closed-by opening": true, "wires hole": true,
		"wires across": false, "kit clearance": false, "kit fit": false, "joins toward": false, "parts orient": false, "parts face": false, // directions
		"balance support": true, "balance margin": true, "balance at": true, "balance inside": true, "magnets pocket": true, "branches length": true,
		"weighed at": false, "lights cover": false, "magnets north": false,
		"printers volume": false, "printers layer": false, "printers margin": false, "printers edge": false, "printers border": false, "printers line": false, "support raise": false, "support bridge": false}
	where, found := "kit", 0
	for _, line := range strings.Split(kits.Reference(), "\n") {
		if _, entry, named := strings.Cut(line, "`"); named && strings.HasPrefix(line, "**") {
			where, _, _ = strings.Cut(entry, "`")
		}
		cells := strings.Split(line, "|")
		if len(cells) < 4 {
			continue
		}
		key := where + " " + strings.Trim(strings.TrimSuffix(strings.TrimSpace(cells[1]), " (required)"), "`")
		switch strings.TrimSpace(cells[2]) {
		case "length", "[x, y, z]", "[width, height]", "[diameter, depth]":
			found++
			if _, decided := scales[key]; !decided {
				t.Errorf("does %s scale?", key)
			}
		}
	}
	if found != len(scales) {
		t.Errorf("%d lengths in the reference, %d decided", found, len(scales))
	}
}

func TestParseScaling(t *testing.T) {
	for _, c := range []struct{ text, from, to, percent, near string }{
		{"1:48", "1:32", "1:48", "66.67 %", ""},
		{"66.7%", "1:32", "1:47.98", "66.7 %", "1:48"},
		{"66.6 %", "1:32", "1:48.05", "66.6 %", ""},
		{"67%", "1:32", "1:47.76", "67 %", "1:48"},
		{"150%", "1:48", "1:32", "150 %", ""},
		{"50%", "", "", "50 %", ""},
		{" 1:7.5 ", "1:15", "1:7.5", "200 %", ""},
		{"100%", "1:32", "1:32", "100 %", ""},
	} {
		s := mustScale(t, c.text, c.from)
		if s.To != c.to || s.Percent() != c.percent || s.Near != c.near {
			t.Errorf("%q of %q is %q at %s near %q, want %q at %s near %q", c.text, c.from, s.To, s.Percent(), s.Near, c.to, c.percent, c.near)
		}
	}
	for _, c := range []struct{ text, from, want string }{
		{"0", "1:32", "neither a scale"},
		{"1:0", "1:32", "neither a scale"},
		{"-1:24", "1:32", "neither a scale"},
		{"-50%", "1:32", "neither a scale"},
		{"1:1e9", "1:32", "neither a scale"},
		{"large", "1:32", "neither a scale"},
		{"", "1:32", "neither a scale"},
		{"24", "1:32", "neither a scale"},
		{"NaN%", "1:32", "neither a scale"},
		{"0%", "1:32", "give from 1 % to 10000 %"},
		{"1:1000000000", "1:32", "give from 1 % to 10000 %"},
		{"999999999%", "1:32", "give from 1 % to 10000 %"},
		{"3300%", "1:32", "larger than life"},
		{"1:24", "", "has no scale"},
	} {
		if _, err := kits.ParseScaling(c.text, c.from); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q of %q: want an error with %q, got %v", c.text, c.from, c.want, err)
		}
	}
}

func mustScale(t *testing.T, text, from string) kits.Scaling {
	t.Helper()
	s, err := kits.ParseScaling(text, from)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
