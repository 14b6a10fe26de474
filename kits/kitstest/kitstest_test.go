package kitstest

import (
	"slices"
	"testing"
)

// Without CI=true a test repeats less, the first case is always among those it runs,
// and with CI=true nothing is left out.
func TestShortened(t *testing.T) {
	cases := []int{1, 2, 3, 4, 5}
	t.Setenv("CI", "")
	if n, some := Rounds(t, 100, 10), Some(t, 3, cases); n != 10 || !slices.Equal(some, []int{1, 4}) {
		t.Errorf("shortened: %d rounds, cases %v", n, some)
	}
	t.Setenv("CI", "true")
	if testing.Short() {
		return // under -short nothing runs in full
	}
	if n, all := Rounds(t, 100, 10), Some(t, 3, cases); n != 100 || !slices.Equal(all, cases) {
		t.Errorf("in full: %d rounds, cases %v", n, all)
	}
}

// Edits replace a line, or delete it with its end if nothing replaces it.
func TestMistake(t *testing.T) {
	const tail = "step: hold, after: [light-test, ballast-tray, cockpit-floor]\n"
	text := "  - {fit: ballast-tray, to: hull-port-fore, with: epoxy, bench: true, size: [46, 34, 29], toward: [0, -1, 0], takes: 10m}\n" + tail
	want := "  - {fit: ballast-tray, to: hull-port-fore, with: epoxy, bench: true, size: [46, 34, 29], toward: [0, -1, 0], after: [hull-seams], takes: 10m}\n" +
		"step: hold, after: [light-test, cockpit-floor]\n"
	if got := Mistake(t, text, "m01-ballast-late"); got != want {
		t.Errorf("got\n%s", got)
	}
}
