package format

import (
	"fmt"
	"testing"
)

func TestDidYouMean(t *testing.T) {
	known := []string{"hull-left", "hull-right", "seat", "sea"}
	for name, want := range map[string]string{
		"hull-lef":  `, did you mean "hull-left"?`,
		"hull-lfet": `, did you mean "hull-left"?`, // a swap is one change
		"saet":      `, did you mean "seat"?`,
		"battery":   "",
		"se":        "", // everything is near to so little
	} {
		if got := DidYouMean(name, known); got != want {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
}

// A hostile file cannot make the look-up of names take long.
func TestSuggestionsEnd(t *testing.T) {
	var known []string
	for i := range 20_000 {
		known = append(known, fmt.Sprint("part-", i))
	}
	var s Suggester
	first := s.Suggest("part-10x", known)
	for range 20 {
		s.Suggest("part-10x", known)
	}
	if last := s.Suggest("part-10x", known); first == "" || last != "" {
		t.Errorf("first %q, last %q", first, last)
	}
}
