package booklet

import (
	"slices"
	"strings"
	"testing"

	"dryfit/graphviz/document"
	"dryfit/graphviz/draw"
	"dryfit/graphviz/words"
	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// pairAt is a maker for a kit of one pair, whose first part lies in a direction from the
// second.
func pairAt(t *testing.T, first, second string, d geom.Vec) *maker {
	t.Helper()
	k, err := kits.Read("kit.yaml", []byte(`
kit: Pair
parts:
  a: {name: `+first+`, printed: resin, pair: b}
  b: {name: `+second+`, printed: resin}
joins: [{fit: a, to: b}]
`))
	if err != nil {
		t.Fatal(err)
	}
	meshes := make([]*mesh.Mesh, 2)
	for i, at := range []geom.Vec{d, d.Opposite()} {
		m, err := mesh.FromTriangles("", meshtest.Box(at, at.Plus(geom.Vec{1, 1, 1})))
		if err != nil {
			t.Fatal(err)
		}
		meshes[i] = m
	}
	m := &maker{l: words.Language{Tag: "en"}, kit: k, meshes: meshes, renderer: draw.NewRenderer(meshes, draw.NewCache())}
	m.sides = m.findSides()
	return m
}

// The first view looks from -x and -y. Where that is on the model follows from where its
// port or left parts are; a kit that does not say which is which has its axes named.
func TestSeenFrom(t *testing.T) {
	if eye := draw.Views[0].Ahead.Opposite(); !(eye[0] < -0.1 && eye[1] < -0.1) {
		t.Fatalf("the first view looks from %v", eye)
	}
	for _, c := range []struct {
		first, second string
		at            geom.Vec
		want          string
	}{
		{"Port wing", "Starboard wing", geom.Vec{0, 9, 0}, "the rear and starboard"},
		{"Port wing", "Starboard wing", geom.Vec{0, -9, 0}, "the front and port"},
		{"Port wing", "Starboard wing", geom.Vec{9, 0, 0}, "starboard and the front"},
		{"Starboard wing", "Port wing", geom.Vec{0, -9, 0}, "the rear and starboard"},
		{"Wing Backbord", "Wing Steuerbord", geom.Vec{0, 9, 0}, "the rear and starboard"},
		{"Left door", "Right door", geom.Vec{0, 9, 0}, "the -x side and the right"},
		{"Wing one", "Wing two", geom.Vec{0, 9, 0}, "the -x side and the -y side"},
		{"Port wing", "Starboard wing", geom.Vec{0, 0, 9}, "the -x side and the -y side"},
		{"Port wing", "Starboard wing", geom.Vec{9, 9, 0}, "the -x side and the -y side"},
	} {
		if got, want := pairAt(t, c.first, c.second, c.at).seenFrom(0), "Now seen from "+c.want+", above."; got != want {
			t.Errorf("%s at %v: %q, want %q", c.first, c.at, got, want)
		}
	}
	m := pairAt(t, "Port wing", "Starboard wing", geom.Vec{0, 9, 0})
	m.l.Tag = "de"
	if got := m.seenFrom(12); got != "Jetzt von hinten und Steuerbord gesehen, Unterseite oben." {
		t.Errorf("%q", got)
	}
}

// A change of view must be said below the picture, and a model turned over needs its sign.
func TestChangesOfViewAreSaid(t *testing.T) {
	rule := func(m *Made) Verdict {
		list := m.Check()
		return list[slices.IndexFunc(list, func(v Verdict) bool { return strings.HasPrefix(v.Rule, "The view is kept") })]
	}
	for what, spoil := range map[string]func(*document.Step){
		"caption": func(s *document.Step) {
			if s.Figure != nil {
				s.Figure = &document.Figure{Picture: s.Figure.Picture, Alt: s.Figure.Alt}
			}
		},
		"sign": func(s *document.Step) { s.Signs = nil },
	} {
		made := again(t, demonstration(t), "en")
		if v := rule(made); v.Result != Holds {
			t.Fatalf("before the mistake: %v", v)
		}
		for _, c := range made.Book.Chapters {
			for i, b := range c.Blocks {
				if s, ok := b.(document.Step); ok {
					spoil(&s)
					c.Blocks[i] = s
				}
			}
		}
		if v := rule(made); v.Result != Fails {
			t.Errorf("without the %s: %v", what, v)
		}
	}
}
