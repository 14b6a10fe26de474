// Package plantest is for tests: plans of kits that are given as text.
package plantest

import (
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/plan"
	"dryfit/plan/explain"
)

// Check reads the text of a kit without faults in its form and checks it, without
// meshes.
func Check(t testing.TB, text string) *plan.Project {
	t.Helper()
	p, err := explain.Check(kitstest.Read(t, text))
	if err != nil {
		t.Fatal(err)
	}
	return p
}
