package kitstest

import (
	"os"
	"testing"
)

// Full reports whether tests run in full: when CI=true is in the environment, and not
// with -short, which is for the race detector. Otherwise tests that only repeat more
// of the same are shortened.
func Full() bool { return os.Getenv("CI") == "true" && !testing.Short() }

// Rounds returns how often a test is to repeat: full where tests run in full, and fewer
// elsewhere, which it logs.
func Rounds(t testing.TB, full, fewer int) int {
	t.Helper()
	if Full() {
		return full
	}
	t.Logf("shortened: %d of %d rounds; CI=true runs all", fewer, full)
	return fewer
}

// Repeats skips a test that is for the most part like another, named here, unless tests run
// in full.
func Repeats(t testing.TB, other string) {
	t.Helper()
	if !Full() {
		t.Skipf("shortened: most of this is in %s; CI=true runs both", other)
	}
}

// Some returns the cases that a test is to run: all of them where tests run in full,
// and every nth elsewhere, the first included, which it logs.
func Some[T any](t testing.TB, nth int, cases []T) []T {
	t.Helper()
	if Full() {
		return cases
	}
	var some []T
	for i := 0; i < len(cases); i += nth {
		some = append(some, cases[i])
	}
	t.Logf("shortened: %d of %d cases; CI=true runs all", len(some), len(cases))
	return some
}
