package plan_test

import (
	"slices"
	"testing"

	"dryfit/kits"
	"dryfit/kits/kitstest"
	"dryfit/plan"
)

func hazardKit(t *testing.T, text string) *kits.Kit {
	t.Helper()
	return kitstest.Read(t, "kit: Hazards\n"+text)
}

func ids(list []plan.Hazard) []string {
	out := []string{}
	for _, h := range list {
		out = append(out, h.ID)
	}
	return out
}

// Each hazard is told for a kit that asks for it, and not for one that only sounds alike.
func TestHazards(t *testing.T) {
	part := func(fields string) string { return "parts: {hull: {}, x: {" + fields + "}}\n" }
	join := func(fields string) string {
		return "parts: {hull: {}, x: {bought: true}}\njoins: [{fit: x, to: hull, " + fields + "}]\n"
	}
	task := func(do string) string { return "parts: {hull: {}}\ntasks: [{do: " + do + "}]\n" }
	space := func(room, y string) string {
		return "parts: {hull: {}, x: {}, y: {" + y + "}, lid: {}}\nspaces:\n  room: {closed-by: [lid], " + room + "}\n"
	}
	caOn := func(what string) string {
		return "joins: [{fit: " + what + ", to: hull, with: ca}, {fit: y, to: hull, with: cement}, {fit: lid, to: hull, with: cement}]\n"
	}
	for _, c := range []struct {
		hazard string
		has    []string
		not    []string
	}{
		{"blades", []string{part(``)}, nil},
		{"dust", []string{task(`Drill the holes`), task(`Scrape the seams`)}, []string{task(`Wipe the seams`)}},
		{"magnets", []string{task(`Try the magnets`)}, nil},
		{"button-cells", []string{task(`Put in two button cells`)}, []string{task(`Put in two screws`)}},
		{"superglue", []string{"fixings: {cyano: {kind: glue}}\n" + join(`with: cyano`)}, nil},
		{"solvents", []string{"fixings: {plastic-glue: {kind: glue}}\n" + join(`with: plastic-glue`)}, nil},
		{"magnets", []string{
			part(`bought: true, name: Magnet 6 x 2`), part(`bought: true, name: Neodymium disc`), join(`with: magnet`),
			part(`bought: true, size: [5, 5, 2]`) + "magnets: [{magnet: x, north: [0, 0, 1]}]\n",
		}, []string{part(`bought: true, name: Disc 6 x 2`)}},
		{"batteries", []string{
			part(`bought: true, name: Battery 9 V`), part(`bought: true, name: Li-ion cell with lead`), part(`bought: true, name: Holder with CR2032`),
			part(``) + "lights: {volts: 9, branches: [{lamps: x, colour: red, current: 5}]}\n",
		}, []string{part(`printed: resin, name: Battery`)}},
		{"button-cells", []string{part(`bought: true, name: Button cell`), part(`bought: true, name: CR2032`), part(`bought: true, name: LR44`), part(`bought: true, name: SR626`), part(`bought: true, name: AG13`)},
			[]string{part(`bought: true, name: Battery 6LR61`), part(`bought: true, name: Cell LR6`), part(`bought: true, name: Cell LR03`), part(`bought: true, name: Push button`)}},
		{"lithium", []string{part(`bought: true, name: LiPo 300 mAh`), part(`bought: true, name: Li-ion cell`), part(`bought: true, name: Lithium battery`), part(`bought: true, name: Cell 18650`), part(`bought: true, name: CR123A`)},
			[]string{part(`bought: true, name: Battery 9 V`), part(`printed: filament, name: LiPo`), part(`bought: true, name: Lion`)}},
		{"solvents", []string{join(`with: cement`), join(`with: solvent`), task(`Paint the hull`), task(`Thin the enamel`), part(`paint: before-fit`), task(`Spray the hull`)},
			[]string{join(`with: ca`), part(`paint: none`), part(`paint: masked`)}},
		{"spray", []string{task(`Spray the hull`), task(`Airbrush the hull`), join(`note: airbrush it first`)}, []string{task(`Paint the hull`)}},
		{"resin", []string{part(`printed: resin`)}, []string{part(`printed: filament`)}},
		{"resin-washing", []string{part(`printed: resin`)}, []string{part(`printed: filament`)}},
		{"lead", []string{
			part(`bought: true, name: Lead shot`), part(`bought: true, name: "Shot, lead"`), part(`bought: true, note: lead pellets will do`),
			"materials: {lead: {density: 11.3}}\n" + part(`bought: true, material: lead`),
			part(`bought: true, name: Lead`) + "balance: {along: x, support: 20, ballast: x, at: 10}\n",
		}, []string{
			part(`bought: true, name: Steel shot`), part(`bought: true, name: Lead-free shot`), part(`bought: true, name: Battery lead`), part(`bought: true, name: Lead`),
			part(`bought: true, name: Lead-free putty`) + "balance: {along: x, support: 20, ballast: x, at: 10}\n",
		}},
		{"small-parts", []string{part(`size: [20, 20, 50]`)}, []string{part(`size: [20, 26, 50]`), part(`size: [20, 20, 58]`)}},
		{"superglue", []string{join(`with: ca`), "fixings: {superglue: {kind: glue}}\n" + join(`with: superglue`)}, []string{join(`with: epoxy`)}},
		{"epoxy", []string{join(`with: epoxy`), join(`with: epoxy-fast`)}, []string{join(`with: ca`)}},
		{"resin-glue", []string{join(`with: uv-resin`)}, []string{join(`with: clear-glue`)}},
		{"soldering", []string{
			task(`Solder the clip`), join(`note: solder it first`), "fixings: {solder: {kind: press}}\n" + join(`with: solder`),
			part(`bought: true`) + "wires: [{wire: feed, from: hull, to: x}]\n",
		}, []string{task(`Soldier on`)}},
		{"filament-fumes", []string{part(`printed: filament, material: abs`), "materials: {asa-grey: {density: 1.07, process: filament}}\n" + part(`printed: filament, material: asa-grey`)},
			[]string{part(`printed: filament`), part(`printed: filament, material: petg`)}},
		{"fibre", []string{part(`made: true, name: Carbon rod 1 mm`), part(`bought: true, name: Glass fibre sheet`), part(`bought: true, name: Fibreglass cloth`), task(`Drill the carbon tube`)},
			[]string{part(`bought: true, name: Carbon-zinc battery`), part(`bought: true, name: Window glass`), part(`printed: filament, name: Carbon rod clip`)}},
		{"dust", []string{task(`Sand the seam`)}, []string{task(`Wait`)}},
		{"magnet-heat", []string{
			join(`with: magnet, note: solder it first`),
			part(`bought: true, name: Magnet`) + "tasks: [{do: Solder the clip}]\n",
		}, []string{join(`with: magnet`), task(`Solder the clip`)}},
		{"glue-haze", []string{
			"parts: {hull: {}, x: {paint: masked}}\njoins: [{fit: x, to: hull, with: ca}]\n",
			"parts: {hull: {paint: masked}, x: {}}\njoins: [{fit: x, to: hull, with: ca}]\n",
		}, []string{join(`with: ca`), "parts: {hull: {}, x: {paint: masked}}\njoins: [{fit: x, to: hull, with: clear-glue}]\n"}},
		{"glue-haze", []string{
			// in one space, in a space inside it, and closing it
			space(`holds: [x, y]`, `paint: masked`) + caOn(`x`), space(`holds: [x]`, `paint: masked`) + "  inner: {closed-by: [lid], holds: [y], inside: room}\n" + caOn(`x`),
			"parts: {hull: {}, x: {}, lid: {paint: masked}}\nspaces: {room: {closed-by: [{piece: lid, opening: [20, 20]}], holds: [x]}}\n" +
				"joins: [{fit: x, to: hull, with: ca}, {fit: lid, to: hull, with: cement}]\n",
			// on what is glued
			"parts: {hull: {}, x: {}, y: {paint: masked}}\njoins: [{fit: x, to: hull, with: ca}, {fit: y, to: x, with: cement}]\n",
			"materials: {clear-abs: {density: 1, process: resin}}\nparts: {hull: {}, x: {printed: resin, material: clear-abs}}\njoins: [{fit: x, to: hull, with: ca}]\n",
		}, []string{space(`holds: [x]`, `paint: masked`) + caOn(`x`), space(`holds: [x, y]`, ``) + caOn(`x`)}},
		{"adhesive", []string{"fixings: {brand-x: {kind: glue}}\n" + join(`with: brand-x`), join(`with: clear-glue`)},
			[]string{join(`with: ca`), join(`with: press`), "fixings: {clips: {kind: press}}\n" + join(`with: clips`)}},
		{"superglue", []string{task(`Superglue the thread`), "fixings: {sekundenkleber: {kind: glue}}\n" + join(`with: sekundenkleber`)}, []string{task(`Sand for ca. an hour`)}},
		{"polarity", []string{part(`bought: true`) + "wires: [{wire: feed, from: hull, to: x}]\n", part(``) + "lights: {volts: 9, branches: [{lamps: x, colour: red, current: 5}]}\n"},
			[]string{task(`Paint the lamp`)}},
	} {
		for _, text := range c.has {
			if got := ids(plan.Hazards(hazardKit(t, text))); !slices.Contains(got, c.hazard) {
				t.Errorf("no %s, only %v, for\n%s", c.hazard, got, text)
			}
		}
		for _, text := range c.not {
			if got := ids(plan.Hazards(hazardKit(t, text))); slices.Contains(got, c.hazard) {
				t.Errorf("%s for\n%s", c.hazard, text)
			}
		}
	}
}

// The same in German.
func TestHazardsInGerman(t *testing.T) {
	task := func(do string) string { return "parts: {hull: {printed: resin}}\ntasks: [{do: " + do + "}]\n" }
	part := func(name string) string { return "parts: {hull: {}, x: {bought: true, name: " + name + "}}\n" }
	with := func(id string) string {
		return "fixings: {" + id + ": {kind: glue}}\nparts: {hull: {}, x: {}}\njoins: [{fit: x, to: hull, with: " + id + "}]\n"
	}
	for _, c := range []struct {
		hazard string
		has    []string
		not    []string
	}{
		{"soldering", []string{task(`Leitung anlöten`), task(`Alle Anschlüsse verlöten`), task("Das Brett lo\u0308ten"), task(`Die Kabel werden gelötet`), with(`loetzinn`)}, []string{task(`Die Flöte aufhängen`)}},
		{"dust", []string{task(`Naht verschleifen`), task(`Löcher bohren`), task(`Fugen spachteln`), task(`Kanten abfeilen`), task(`Zapfen absägen`)}, []string{task(`Eine Schleife binden`), task(`Auf den Pfeil achten`)}},
		{"blades", []string{task(`Angüsse abschneiden`), task(`Draht kürzen`), task(`Grate mit dem Messer entfernen`)}, []string{task(`Durchmesser prüfen`)}},
		{"spray", []string{task(`Rumpf aussprühen`), task(`Mit der Spritzpistole grundieren`)}, []string{task(`Leitung durchziehen`)}},
		{"solvents", []string{task(`Rumpf lackieren`), task(`Innen grundieren`), task(`Rumpf bemalen`), task(`Mit Klarlack überziehen`), with(`kunststoffkleber`)}, []string{task(`Black wires first`), task(`Rumpf prüfen`)}},
		{"magnets", []string{task(`Magnete einlegen`), part(`Scheibenmagnet 5 x 2`), part(`Neodymscheibe`)}, []string{part(`Scheibe 5 x 2`)}},
		{"lead", []string{part(`Bleischrot`), task(`Blei abwiegen`)}, []string{task(`Der Stab bleibt frei`), part(`Bleifreies Lot`)}},
		{"fibre", []string{part(`Kohlefaserstab`), part(`CFK-Rohr`), part(`Glasfasermatte`)}, []string{part(`Glasscheibe`)}},
		{"batteries", []string{part(`9-V-Batterie`), part(`Akku 2S`), part(`Halter mit Knopfzelle`)}, []string{part(`Zellenwand`)}},
		{"button-cells", []string{part(`Knopfzelle`)}, []string{part(`Knopf`)}},
		{"lithium", []string{part(`Lithiumzelle`)}, []string{part(`Zelle`)}},
		{"superglue", []string{with(`sekundenkleber`), task(`Mit Sekundenkleber sichern`)}, []string{with(`leim`)}},
		{"epoxy", []string{with(`epoxidharz`), task(`Epoxidharz anrühren`)}, []string{with(`leim`)}},
		{"adhesive", []string{with(`leim`)}, []string{with(`sekundenkleber`)}},
		{"resin-washing", []string{task(`Teile waschen`)}, nil},
	} {
		for _, text := range c.has {
			if got := told(t, c.hazard, text); !slices.Contains(got, c.hazard) {
				t.Errorf("no %s, only %v, for\n%s", c.hazard, got, text)
			}
		}
		for _, text := range c.not {
			if got := told(t, c.hazard, text); slices.Contains(got, c.hazard) {
				t.Errorf("%s for\n%s", c.hazard, text)
			}
		}
	}
}

// told are the hazards of a kit, or those of its step where every kit has the one
// asked for.
func told(t *testing.T, hazard, text string) []string {
	if hazard == "blades" {
		return ids(plan.Derive(hazardKit(t, text)).StepHazards(0))
	}
	return ids(plan.Hazards(hazardKit(t, text)))
}

// A step is told of the hazards of its work and of what it fits, and no others.
func TestStepHazards(t *testing.T) {
	r := plan.Derive(hazardKit(t, `
parts:
  hull: {printed: resin}
  window: {printed: resin, paint: masked}
  cell: {bought: true, name: CR2032, size: [20, 20, 3]}
  disc: {bought: true, size: [5, 5, 2]}
  rod: {made: true, name: Carbon rod}
  lamp: {bought: true}
joins:
  - {fit: window, to: hull, with: ca}
  - {fit: cell, to: hull, with: loose}
  - {fit: disc, to: hull, with: epoxy}
  - {fit: rod, to: hull, with: press}
  - {fit: lamp, to: hull, with: clear-glue}
wires: [{wire: feed, from: cell, to: lamp}]
tasks: [{do: Airbrush the outside}]
magnets: [{magnet: disc, north: [0, 0, 1]}]
`))
	for step, want := range [][]string{
		{"superglue", "glue-haze"}, {"button-cells", "batteries", "lithium"}, {"magnets", "epoxy"}, {"fibre", "blades"}, {"adhesive"}, {"soldering", "blades", "polarity"}, {"solvents", "spray"},
	} {
		if got := ids(r.StepHazards(step)); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", r.Does(step), got, want)
		}
	}
}

// A clear part that is not joined to what is glued, and in no space with it, counts when
// the meshes touch, at the step and at the front.
func TestHazeByContact(t *testing.T) {
	k := hazardKit(t, "parts: {hull: {}, rail: {}, window: {paint: masked}}\njoins: [{fit: rail, to: hull, with: ca}, {fit: window, to: hull, with: cement}]\n")
	for _, c := range []struct {
		touching []plan.Touch
		want     bool
	}{{nil, false}, {[]plan.Touch{{A: 0, B: 2, Contact: 4}}, false}, {[]plan.Touch{{A: 1, B: 2, Contact: 4}}, true}, {[]plan.Touch{{A: 2, B: 1, Gap: 0.05}}, true}} {
		r := plan.Derive(k)
		r.Geometry = &plan.Geometry{Touching: c.touching}
		for where, list := range map[string][]plan.Hazard{"step": r.StepHazards(0), "front": r.Hazards()} {
			if got := slices.Contains(ids(list), "glue-haze"); got != c.want {
				t.Errorf("%s, touching %v: %v", where, c.touching, got)
			}
		}
	}
}

// What is told at a step is told at the front as well.
func TestFrontTellsOfEverySteps(t *testing.T) {
	r := plan.Derive(hazardKit(t, "parts: {a: {bought: true, name: LiPo}, b: {paint: masked}, c: {made: true, name: Lead shot}}\njoins: [{fit: b, to: a, with: ca, note: solder}, {fit: c, to: a, with: magnet}]\ntasks: [{do: Spray it}, {do: Sand it}]\n"))
	front := ids(plan.Hazards(r.Kit))
	for step := range r.Steps {
		for _, id := range ids(r.StepHazards(step)) {
			if !slices.Contains(front, id) {
				t.Errorf("%s: the front does not tell of %s", r.Does(step), id)
			}
		}
	}
}
