package progress_test

import (
	"fmt"
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

// Plates that could not be kept like that say where they are wrong.
func TestPlateFaults(t *testing.T) {
	const plate = "plates:\n  - {number: %s, on: big, pieces: {hull: [0, 0, %s]}}\n"
	for _, c := range []struct{ number, turned, want string }{
		{"1", "45", "p.yaml:2:41: plates: pieces: hull: is turned by 45 degrees; pieces on a plate are turned by 0, 90, 180 or 270"},
		{"1", "360", "p.yaml:2:41: plates: pieces: hull: is turned by 360 degrees; pieces on a plate are turned by 0, 90, 180 or 270"},
		{"100000", "90", "p.yaml:2:14: plates: number: must be a whole number from 1 to 10000"},
		{"1", "270]}}\n  - {number: 1, on: small, pieces: {lid: [0, 0, 0", "p.yaml:3:5: plates: number 1 is given twice; remove one"},
	} {
		if _, err := progress.Read("p.yaml", fmt.Appendf(nil, plate, c.number, c.turned)); err == nil || err.Error() != c.want {
			t.Errorf("number %s, turned %s: %v\nwant %s", c.number, c.turned, err, c.want)
		}
	}
}
