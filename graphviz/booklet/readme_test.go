package booklet

import (
	"bytes"
	"os"
	"testing"

	"dryfit/graphviz"
	"dryfit/graphviz/svg"
	"dryfit/plan"
)

// The pictures of the README are those that the program draws of the demonstration kit:
// the step that closes the hull, and the assembly tree.
func TestReadmePictures(t *testing.T) {
	d := demonstration(t)
	tree, err := graphviz.Tree(t.Context(), d.rep, "svg")
	if err != nil {
		t.Fatal(err)
	}
	step := closingHull(t, d)
	sameFile(t, "testdata/readme-step.svg", step)
	sameFile(t, "testdata/readme-tree.svg", tree)
	if n := len(step) + len(tree); n > 200_000 {
		t.Errorf("the pictures take %d bytes together, more than a README should load", n)
	}
}

// closingHull draws the step on white, so that it can be seen on a dark page as well.
func closingHull(t *testing.T, d checked) []byte {
	t.Helper()
	for _, p := range d.made.Pictures {
		if s := d.rep.Constraints.Steps[p.Step]; s.Kind == plan.Close && s.Join.Step == "hull-closing" {
			drawing := svg.File(p.Picture.SVG(d.rep.Constraints.Does(p.Step)))
			end := []byte("</title>\n")
			return bytes.Replace(drawing, end, append(end, `<rect width="100%" height="100%" fill="#ffffff"/>`+"\n"...), 1)
		}
	}
	t.Fatal("no picture of the step hull-closing")
	return nil
}

// sameFile compares a file with what is drawn. With UPDATE_GOLDEN set it is written anew.
func sameFile(t *testing.T, name string, want []byte) {
	t.Helper()
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.WriteFile(name, want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if got, err := os.ReadFile(name); err != nil || !bytes.Equal(got, want) {
		t.Errorf("%s is out of date: run UPDATE_GOLDEN=1 go test ./graphviz/booklet -run Readme, and look at it (%v)", name, err)
	}
}
