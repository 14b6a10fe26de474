package plates

import (
	"bytes"
	"math"
	"testing"
	"time"

	"dryfit/kits"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/files"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
	"dryfit/plan/printing"
	"dryfit/plan/printing/printingtest"
	"dryfit/plan/project/projecttest"
)

// demo is the demonstration kit on its printers, when it is planned.
var demo struct {
	kit  *plan.Project
	made *printing.Plan
}

// demoPlates is the demonstration kit on its printers, planned once for all tests: what one
// changes of it, it has to put back.
func demoPlates(t *testing.T) (*plan.Project, *printing.Plan) {
	t.Helper()
	if demo.made != nil {
		return demo.kit, demo.made
	}
	p := projecttest.Load(t)
	r, _, err := printing.Ask(p)
	if err != nil {
		t.Fatal(err)
	}
	r.NoLayers = true
	if demo.made, err = printing.Make(t.Context(), r); err != nil {
		t.Fatal(err)
	}
	demo.kit = p
	return demo.kit, demo.made
}

// object is a piece as it was read back from a file.
type object struct {
	*mesh.Mesh
	triangles []mesh.Triangle
}

// readBack writes a plate and reads what it wrote.
func readBack(t *testing.T, p *printing.Plate) map[string]object {
	t.Helper()
	data, err := Package(p)
	if err != nil {
		t.Fatal(err)
	}
	of := map[string]object{}
	for _, m := range meshtest.Open(t, "plate.3mf", data, files.Options{}) {
		of[m.Name] = object{m, meshtest.Triangles(t, m)}
	}
	return of
}

// turned turns a point about x, then y, then z, in degrees: what the sheet says.
func turned(p [3]float64, angles [3]float64) [3]float64 {
	for k, a := range angles {
		s, c := math.Sincos(a * math.Pi / 180)
		i, j := (k+1)%3, (k+2)%3
		p[i], p[j] = c*p[i]-s*p[j], s*p[i]+c*p[j]
	}
	return p
}

// What is written is what was planned, to a hundredth of a millimetre: each piece under
// its id, turned by the angles of the sheet, in its place and on the bed; pieces keep
// their distance and the edge. Mass, supports and time follow from the files.
func TestWrittenPlates(t *testing.T) {
	p, made := demoPlates(t)
	for n, plate := range made.Plates {
		if n >= 4 && !kitstest.Full() {
			t.Logf("shortened: 4 of %d plates", len(made.Plates))
			break
		}
		if len(Left(plate)) == len(plate.Pieces) {
			continue // no file
		}
		of := readBack(t, plate)
		if len(of)+len(Left(plate)) != len(plate.Pieces) {
			t.Errorf("plate %d: %d objects and %d pieces left out of %d", plate.Number, len(of), len(Left(plate)), len(plate.Pieces))
		}
		var before []object
		for _, x := range plate.Pieces {
			got, written := of[x.Piece.ID]
			if !written {
				if x.Part.Mesh() != nil {
					t.Errorf("plate %d: %s is not in the file", plate.Number, x.Piece.ID)
				}
				continue
			}
			checkPlace(t, plate, &x, got)
			for _, o := range before {
				least := plate.Printer.Margin
				if d := printingtest.Apart(got.triangles, o.triangles, least); d < least-0.01 {
					t.Errorf("plate %d: %s and %s are %.3f mm apart, less than %g", plate.Number, got.Name, o.Name, d, least)
				}
			}
			before = append(before, got)
		}
		if len(Left(plate)) == 0 {
			checkSums(t, p.Kit, plate, of)
		}
	}
}

func checkPlace(t *testing.T, plate *printing.Plate, x *printing.Placed, got object) {
	low, high := printingtest.Around(got.triangles)
	w, d := x.Box()
	want := [6]float64{x.X, x.Y, x.Setting.Raised, x.X + w, x.Y + d, x.Setting.Height()}
	edge := plate.Printer.Edge
	for k := range 3 {
		if math.Abs(low[k]-want[k]) > 0.01 || math.Abs(high[k]-want[k+3]) > 0.01 {
			t.Errorf("plate %d: %s reaches from %v to %v, planned are %v", plate.Number, x.Piece.ID, low, high, want)
			break
		}
		if k < 2 && (low[k] < edge-0.01 || high[k] > plate.Printer.Volume[k]-edge+0.01) || low[k] < -1e-3 || high[k] > plate.Printer.Volume[k]+0.01 {
			t.Errorf("plate %d: %s is outside, from %v to %v", plate.Number, x.Piece.ID, low, high)
		}
	}
	var angles, move [3]float64
	angles[0], angles[1], angles[2] = x.Turn().Angles()
	as := meshtest.Triangles(t, x.Part.Mesh())
	if len(as) != len(got.triangles) {
		return // those without area are left out
	}
	for i := range as {
		for k := range 3 {
			c := as[i][k]
			p := turned([3]float64{float64(c[0]), float64(c[1]), float64(c[2])}, angles)
			for a := range 3 {
				by := float64(got.triangles[i][k][a]) - p[a]
				if i == 0 && k == 0 {
					move[a] = by
				} else if math.Abs(by-move[a]) > 0.01 {
					t.Fatalf("plate %d: %s is not turned by %v", plate.Number, x.Piece.ID, angles)
				}
			}
		}
	}
}

// checkSums works out mass and time from the meshes in the file alone.
func checkSums(t *testing.T, k *kits.Kit, plate *printing.Plate, of map[string]object) {
	var grams, tallest, volume, held, planned float64
	for _, x := range plate.Pieces {
		o := of[x.Piece.ID]
		supports := supported(plate.Printer, x.Part, o)
		held, planned = held+supports, planned+x.Setting.Printed
		printed := material(k, x.Part, o) + supports
		volume += printed
		grams += printed / 1000 * plate.Material.Density
		_, high := printingtest.Around(o.triangles)
		tallest = max(tallest, high[2])
	}
	t.Logf("plate %d: %.0f mm3 of supports planned, %.0f counted", plate.Number, planned, held)
	if math.Abs(planned-held) > 0.03*held {
		t.Errorf("plate %d: %.0f mm3 of supports, its file says %.0f", plate.Number, planned, held)
	}
	if got, _ := plate.Mass(); math.Abs(got-grams) > 1e-3*grams+0.05*held/1000*plate.Material.Density {
		t.Errorf("plate %d: %.2f g, its file says %.2f", plate.Number, got, grams)
	}
	p := plate.Printer
	want := time.Duration(volume / p.Flow * p.Overhead[1] * float64(time.Second))
	slack := want/500 + time.Duration(0.05*held/p.Flow*p.Overhead[1]*float64(time.Second))
	if p.Process == kits.Resin {
		want = time.Duration(math.Ceil(tallest/p.Layer-1e-3))*(p.Exposure+p.Motion) + time.Duration(p.BaseLayers)*p.BaseExposure
		slack = want/500 + 20*time.Second
	}
	if d := (plate.Takes.High - want).Abs(); d > slack {
		t.Errorf("plate %d takes at most %v, its file says %v", plate.Number, plate.Takes.High, want)
	}
}

// material is what is printed of an object, mm3: walls, and the fill within them.
func material(k *kits.Kit, part *printing.Part, o object) float64 {
	full := enclosed(o.triangles)
	shell := min(full, mesh.Wall*area(o.triangles))
	return shell + k.FillOf(part.Of)*(full-shell)
}

// supported is what is printed as supports of an object, mm3, counted from where it lies
// in the file by the rules in dryfit help printing.
func supported(p *kits.Printer, part *printing.Part, o object) float64 {
	const pitch = 0.3 // mm
	rule := printingtest.Rule{Angle: p.Support.Angle, At: p.Process == kits.Resin, Bridge: p.Support.Bridge, Layer: p.Layer}
	if part.Of.Paint == "masked" {
		rule.Angle = max(rule.Angle, 75) // it is to stay clear
	}
	return p.Support.Fill * printingtest.Columns(o.triangles, pitch, rule)
}

func enclosed(list []mesh.Triangle) (v float64) {
	for _, t := range list {
		a, b, c := t[0], t[1], t[2]
		v += float64(a[0])*(float64(b[1])*float64(c[2])-float64(b[2])*float64(c[1])) +
			float64(a[1])*(float64(b[2])*float64(c[0])-float64(b[0])*float64(c[2])) +
			float64(a[2])*(float64(b[0])*float64(c[1])-float64(b[1])*float64(c[0]))
	}
	return v / 6
}

func area(list []mesh.Triangle) (sum float64) {
	for _, t := range list {
		var u, v [3]float64
		for k := range 3 {
			u[k], v[k] = float64(t[1][k]-t[0][k]), float64(t[2][k]-t[0][k])
		}
		sum += math.Sqrt(math.Pow(u[1]*v[2]-u[2]*v[1], 2)+math.Pow(u[2]*v[0]-u[0]*v[2], 2)+math.Pow(u[0]*v[1]-u[1]*v[0], 2)) / 2
	}
	return sum
}

// The STL of a plate has the same triangles as its 3MF, in the same place; both are
// known again as dryfit's.
func TestSolids(t *testing.T) {
	_, made := demoPlates(t)
	plate := made.Plates[0]
	data, err := Solids(plate)
	if err != nil {
		t.Fatal(err)
	}
	list := meshtest.Open(t, "plate.stl", data, files.Options{})
	var all []mesh.Triangle
	for _, m := range list {
		all = append(all, meshtest.Triangles(t, m)...)
	}
	volume := 0.0
	for _, o := range readBack(t, plate) {
		volume += enclosed(o.triangles)
	}
	if got := enclosed(all); math.Abs(got-volume) > 1e-3*volume {
		t.Errorf("the STL has %.1f mm3, the 3MF %.1f", got, volume)
	}
	again, err := Solids(plate)
	if err != nil || !bytes.Equal(data, again) {
		t.Errorf("the same plate makes other bytes: %v", err)
	}
}
