package files

import (
	"strings"
	"testing"

	"dryfit/kits/mesh"
)

func TestNamesAreCounted(t *testing.T) {
	var list []*mesh.Mesh
	for _, n := range []string{"wheel", "wheel-1", "wheel", "", " \x00bolt\u202E "} {
		list = append(list, &mesh.Mesh{Name: n})
	}
	nameAll(list, "file")
	var names []string
	for _, m := range list {
		names = append(names, m.Name)
	}
	if got := strings.Join(names, " "); got != "wheel-2 wheel-1 wheel-3 file bolt" {
		t.Errorf("names %s", got)
	}
}
