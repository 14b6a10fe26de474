package kits

import (
	"strings"
	"testing"
	"time"
)

func readWith(t *testing.T, printers string) *Kit {
	t.Helper()
	text, _, _ := strings.Cut(base, "printers:")
	k, err := Read("kit.yaml", []byte(text+printers))
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// What a kit does not say of a printer is as usual for its process.
func TestPrinters(t *testing.T) {
	k := readWith(t, `printers:
  small: {process: resin, volume: [150, 90, 160], exposure: 4s, motion: 1m 6s, base-layers: 0, count: 2}
  big: {process: filament, volume: [240, 230, 220], line: 0.6, overhead: [1, 2]}
`)
	small, big := *k.Printers[0], *k.Printers[1]
	if small.ID != "small" || small.Process != Resin || small.Volume != [3]float64{150, 90, 160} || small.Count != 2 {
		t.Errorf("the resin printer is %+v", small)
	}
	if small.Layer != 0.05 || small.Exposure != 4*time.Second || small.Motion != 66*time.Second ||
		small.BaseLayers != 0 || small.BaseExposure != 30*time.Second || small.Margin != 2 || small.Change != 15*time.Minute {
		t.Errorf("the resin printer is %+v", small)
	}
	if big.Count != 1 || big.Layer != 0.2 || big.Line != 0.6 || big.Flow != 8 || big.Overhead != [2]float64{1, 2} || big.Margin != 5 || big.Exposure != 0 {
		t.Errorf("the filament printer is %+v", big)
	}
}

// Lengths of a printer are in the units of the file; flow and density are not.
func TestPrinterUnits(t *testing.T) {
	text, _, _ := strings.Cut(base, "printers:")
	k, err := Read("kit.yaml", []byte(strings.Replace(text, "scale:", "units: cm\nscale:", 1)+"printers: {big: {process: filament, volume: [25, 20, 30], layer: 0.02, margin: 0.3, flow: 12}}\n"))
	if err != nil {
		t.Fatal(err)
	}
	p := k.Printers[0]
	if p.Volume != [3]float64{250, 200, 300} || p.Layer != 0.2 || p.Margin != 3 || p.Line != 0.4 || p.Flow != 12 {
		t.Errorf("%+v, want mm", p)
	}
}

func TestNoPrinters(t *testing.T) {
	for _, s := range []string{"", "printers: {}\n"} {
		if k := readWith(t, s); len(k.Printers) != 0 {
			t.Errorf("%q gives %d printers", s, len(k.Printers))
		}
	}
}

func TestMaterials(t *testing.T) {
	text := strings.Replace(base, "{printed: filament}", "{material: tough}", 1)
	text = strings.Replace(text, "jig: {", "weight: {bought: true, material: steel}\n  jig: {", 1)
	text = strings.Replace(text, "printers:", "materials: {tough: {process: filament, density: 1.2}, resin: {density: 1.12}, steel: {density: 7.85}}\nprinters:", 1)
	k, err := Read("kit.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	of := func(id string) *Part { return k.partOf[id] }
	if p := of("hull-left"); p.Material.ID != "resin" || p.Material.Density != 1.12 || p.Material.Process != Resin {
		t.Errorf("a resin part is of %+v, want the kit's own resin", p.Material)
	}
	if p := of("lid"); p.Material.ID != "tough" || p.Printed != Filament {
		t.Errorf("the lid is of %+v and printed %q, want what its material says", p.Material, p.Printed)
	}
	if p := of("seat"); p.Material != nil {
		t.Errorf("a part of which nothing is said is of %+v", p.Material)
	}
	if p := of("weight"); p.Material.Density != 7.85 || p.Printed != "" || p.ToPrint() {
		t.Errorf("the weight is %+v", p)
	}
	var ids []string
	for _, m := range k.Materials {
		ids = append(ids, m.ID)
	}
	if got, want := strings.Join(ids, " "), "pla petg abs tough resin steel"; got != want {
		t.Errorf("materials %q, want %q", got, want)
	}
}

// What is printed beside the pieces of the model: tooling, spare parts, and spares of
// parts that stand in it.
func TestAside(t *testing.T) {
	k := readWith(t, "")
	k.partOf["seat"].Spares = 2
	k.partOf["jig"].Quantity = 2
	list, err := k.Aside()
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, p := range list {
		ids = append(ids, p.ID)
	}
	if got, want := strings.Join(ids, " "), "seat.spare-1 seat.spare-2 jig.1 jig.2"; got != want {
		t.Errorf("aside are %q, want %q", got, want)
	}
	k.partOf["seat"].Spares = MaxPieces
	if _, err := k.Aside(); err == nil || !strings.Contains(err.Error(), "jig: the kit has more than 20000 pieces of tooling and spares") {
		t.Errorf("too many give %v", err)
	}
}

// Each fragile part of the model that is printed gets the spares that the kit states for
// all of them, unless it states its own; 0 is a statement too.
func TestFragileSpares(t *testing.T) {
	k, err := Read("kit.yaml", []byte(`kit: K
fragile-spares: 2
parts:
  base: {}
  mast: {printed: resin, fragile: true, quantity: 3}
  strut: {printed: resin, fragile: true, spares: 1}
  plain: {printed: resin}
  none: {printed: resin, fragile: true, spares: 0}
  lamp: {bought: true, fragile: true}
  jig: {class: tooling, printed: filament, fragile: true}
joins:
  - {fit: mast, to: base}
`))
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[string]int{"base": 0, "mast": 2, "strut": 1, "plain": 0, "none": 0, "lamp": 0, "jig": 0} {
		if p := k.partOf[id]; p.Spares != want || p.StatesSpares() != (want > 0 || id == "none") {
			t.Errorf("%s: %d spares, stated %v", id, p.Spares, p.StatesSpares())
		}
	}
	list, err := k.Aside()
	if err != nil || len(list) != 4 || list[0].ID != "mast.spare-1" || list[1].ID != "mast.spare-2" || list[2].ID != "strut.spare-1" {
		t.Errorf("aside are %v; %v", list, err)
	}
}

func TestPrinterFaults(t *testing.T) {
	const printer = "any: {process: resin, volume: [100, 60, 150]}"
	for _, c := range []struct{ name, old, now, want string }{
		{"no process", printer, "any: {volume: [100, 60, 150]}", "kit.yaml:22:8: printers: any: needs process"},
		{"no volume", printer, "any: {process: resin}", "needs volume"},
		{"other process", printer, "any: {process: resin, volume: [1, 2, 3], flow: 8}", "kit.yaml:22:3: printers: any: flow is for process: filament; this one is resin"},
		{"other process", printer, "any: {process: filament, volume: [1, 2, 3], exposure: 2s}", "exposure is for process: resin"},
		{"micrometres", printer, "any: {process: resin, volume: [100, 60, 150], layer: 50}", "kit.yaml:22:56: printers: any: a layer of 50 mm is out of range; write 0.05"},
		{"layer above all", printer, "any: {process: filament, volume: [100, 60, 0.1]}", "a layer of 0.2 mm is out of range"},
		{"overhead", printer, "any: {process: filament, volume: [1, 2, 3], overhead: [1.6, 1.3]}", "kit.yaml:22:58: printers: any: overhead: must be two numbers of at least 1"},
		{"overhead", printer, "any: {process: filament, volume: [1, 2, 3], overhead: [1.6]}", "must have exactly 2 entries"},
		{"no such material", "printed: filament", "printed: filament, material: petgg", `kit.yaml:7:38: material: no material is called "petgg", did you mean "petg"?; known are resin, pla, petg, abs; add others`},
		{"other material", "printed: filament", "printed: filament, material: resin", "lid is printed with filament, but resin is for resin"},
		{"not to be printed", "lid: {printed: filament}", "lid: {material: steel}", "lid is printed, but steel has no process"},
	} {
		text := strings.Replace(base, c.old, c.now, 1)
		if c.name == "not to be printed" {
			text += "materials: {steel: {density: 7.85}}\n"
		}
		_, err := Read("kit.yaml", []byte(text))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}
