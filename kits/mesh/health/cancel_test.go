package health

import (
	"context"
	"errors"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// An examination that is cancelled ends with that, and not with half of the problems.
func TestCancel(t *testing.T) {
	m, err := mesh.FromTriangles("cubes", meshtest.Cubes([][3]int{{0, 0, 0}, {2, 0, 0}}, 5))
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if h, err := Examine(ctx, m, Options{Walls: true, MinWall: 1}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, %v", h, err)
	}
}
