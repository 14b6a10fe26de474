package progress_test

import (
	"reflect"
	"strings"
	"testing"

	"dryfit/kits/progress"
)

// Plates that are kept read back the same, keep their numbers, and leave the rest of the
// file alone.
func TestKeepPlates(t *testing.T) {
	k := kit(t)
	f, err := progress.Read("p.yaml", []byte("# mine\npieces:\n  seat.1: printed # first\n"))
	if err != nil {
		t.Fatal(err)
	}
	list := []progress.Plate{
		{Number: 2, On: "small", Pieces: []*progress.OnPlate{{ID: "seat.1", X: 3, Y: 4.125}, {ID: "seat.2", X: 30, Y: 2, Turned: 270}}},
		{Number: 1, On: "big", Room: 8, Pieces: []*progress.OnPlate{{ID: "hull"}}},
	}
	kept, err := f.Keep(k, list, []int{2}, true)
	if err != nil {
		t.Fatal(err)
	}
	if p := kept.Plate(1); len(kept.Plates) != 2 || p == nil || !reflect.DeepEqual(*p, list[1]) {
		t.Errorf("plates %+v", kept.Plates)
	}
	if p := kept.Plate(2); p == nil || !p.Printed || !reflect.DeepEqual(p.Pieces, list[0].Pieces) {
		t.Errorf("plate 2 is %+v", p)
	}
	if text := string(kept.Text()); !strings.Contains(text, "# mine\npieces:\n  seat.1: printed # first\n") {
		t.Errorf("the file is now\n%s", text)
	}
	again, err := kept.Keep(k, []progress.Plate{{Number: 3, On: "big", Pieces: []*progress.OnPlate{{ID: "deck"}}}}, []int{2}, false)
	if err != nil {
		t.Fatal(err)
	}
	if p := again.Plate(2); len(again.Plates) != 2 || p.On != "small" || p.Printed || again.Plate(1) != nil {
		t.Errorf("kept again, plates are %+v", again.Plates)
	}
}
