package plan_test

import (
	"slices"
	"strings"
	"testing"

	"dryfit/plan"
)

// Things go by many names, in English and German; the same words mean other things too.
func TestHazardsByName(t *testing.T) {
	frames := map[string]func(string) string{
		"part": func(s string) string { return `parts: {hull: {}, x: {bought: true, name: "` + s + `"}}` },
		"task": func(s string) string { return `parts: {hull: {}}` + "\n" + `tasks: [{do: "` + s + `"}]` },
		"note": func(s string) string {
			return "parts: {hull: {}, x: {bought: true}}\njoins: [{fit: x, to: hull, with: press, note: \"" + s + "\"}]"
		},
		"fixing": func(s string) string {
			return "fixings: {" + s + ": {kind: glue}}\nparts: {hull: {}, x: {}}\njoins: [{fit: x, to: hull, with: " + s + "}]"
		},
		"material": func(s string) string {
			return "materials: {" + s + ": {density: 1.1, process: filament}}\nparts: {hull: {}, x: {printed: filament, material: " + s + "}}"
		},
	}
	for _, c := range []struct{ hazard, of, has, not string }{
		{"lithium", "part",
			"LiPo|Li-Po|LiPoly|Lithium polymer|Li Ion|Li-Ion cell|LiIon|Li\u2011Ion cell|Li\u2013ion cell|18650|INR18650|ICR18650 cell|14500 cell|10440 cell|LiFePO4|1S LiPo 150 mAh|CR123|CR2|" +
				"CR123A|Lithium coin cell|Lithium-Ionen-Akku|LiPo-Akku|LiPo with lead|LiPo cell in its box|Pouch cell 3.7 V|Li-Polymer-Akku|LiIon-Zelle|2 x 18650 cells|LIR2032|CR2032|CR 2032|" +
				"Cell 3.7 V|Zelle 3,7 V|Power bank|LiHV cell|LiPo holder",
			"Lion|Battery 9 V|Lip|Light|LR44|AA cell|Ion|Polymer clay|9 V block|Life-raft pack|Lithographie"},
		{"batteries", "part",
			"AA cell|AAA cells|2 x AAA|9 V block|9V block|9-V-Block|Akkupack|Batteriepack|Batterieblock|NiMH pack|Cell LR6|Cell 6LR61|Battery in its holder|Mignonzelle|Akkuzelle|6F22|Zelle AA|" +
				"Cell 3 V|NiCd cell|Alkaline cell|Batterie mit Clip|Battery holder|Clip for the battery|Batteriehalter|Halter für Batterie|Knopfzellenhalter",
			"Cell phone figure|Gun battery deck|Fuel cell|Cell wall|Engine block|AA gun|AAA gun barrel|Zellenwand|Snap lead|Spring"},
		{"button-cells", "part",
			"CR2032|CR 2032|CR-2032|CR2032 with tabs|LR44|LR 44|SR44SW|SR626SW|AG13|AG 13|LR44H|Coin-cell|Button battery|Watch battery|Knopfzellen|Knopf-Zelle|Knopfbatterie|Uhrenbatterie|BR2032|" +
				"LIR2032|Silver oxide cell 377|Hearing aid battery|Zinc-air cell|Holder for CR2032|CR2032-Halter",
			"Push button|Cell LR6|Cell LR03|LR14|LR20|Coin|Watch figure|Knopf|CR123A|CR2"},
		{"magnets", "part", "Neodymium disc|NdFeB disc|Nd-Fe-B disc|Rare earth disc|Rare-earth disc|Supermagnet|Seltenerdscheibe|Neodym-Scheibe|Magnetic disc|Stabmagnet|Hatch catch, magnetic|Samarium cobalt disc",
			"Disc|Magneto|Magnetron|Magnesium rod|Magnetzünder|Neon sign|Magnetic compass"},
		{"lead", "part",
			"Lead shot|Shot (lead)|Shot, lead, 2 mm|Lead fishing weights|Lead putty|Lead strip|Lead split shot|Split shot lead|Weights of lead|Weight made of lead|Lead ball|Lead ingot|Lead sinkers|" +
				"Lead nose weight|Nose lead weight|Leadshot|Leaded solder|Bleischrot|Bleikugeln|Schrot aus Blei|Schrot (Blei)|Bleistreifen|Bleilot",
			"Wire lead|Leading edge|Leading edge strip|Battery lead|Snap lead|Battery lead, sheet 2|Lead-free shot|Lead free shot|Unleaded|Steel shot|Shot-blasted bolt|Lead, red, 100 mm|Test leads|" +
				"Lead wire|Lead screw|Bleistift|Bleifreies Lot|Lead aircraft figure|Leads with plug|Lead for the ballast lamp|Lead ship"},
		{"fibre", "part",
			"Carbon fibre rod|Carbon-fiber tube|CF rod 1 mm|Carbon spar|CFRP tube|Glass-fibre rod|GRP sheet|GFRP rod|GFK-Rohr|CFK Rohr|Carbonrohr|Karbonstab|Kohlerohr|Carbon bar|Carbon tubing|" +
				"Carbon-Rohr|Carbonfibre rod|Rod, carbon|FR4 sheet|Aramid fibre|Fiberglass mat|Glasfaserstab",
			"Carbon-zinc battery|Window glass|Glass rod|Optical fibre 1 mm|Fibre washer|Carbon steel blade|Carbon steel rod|Carbon black paint"},
		{"fibre", "material", "pla-cf|pa6-gf30|paht-cf|pacf|carbon-pla|pla-kohlefaser|petg-glasfaser", "pla|petg|clear-glass|cfx"},
		{"filament-fumes", "material", "abs|white-abs|abs2|asa|nylon|pa6|pa12-cf|pc|pc-abs|pom|acetal|polyamid|pvc", "pla|petg|tpu|absorber|paper|pca"},
		{"dust", "task", "Sand the putty|Putty the seams|Filled and sanded|Smooth the putty|Rub down the seams|Ream the holes|Drilled out|Spachtelmasse auftragen",
			"Wipe the seams|Sandwich the plates|Lay the profile|Full test|Thousand ties|Fit the filler cap"},
		{"spray", "task", "Airbrush the hull|Air-brush it|Air brush it|Spraypaint it|Rattle can primer|Mist coat|Mit Spraydose grundieren|Sprayen|Sprühlack", "Fit the spray rail|Spray rails on|Spritzwasserleiste ankleben|Paint it"},
		{"solvents", "task", "Painted inside|Priming|Varnished|Lacquered|White spirit|Turpentine|Wipe with isopropanol|Wipe with IPA|Topcoat|Clear coat|Spiritus|Waschbenzin|Solvent wipe|Plastic cement|Airbrush it",
			"Black wires first|Primary test|Coat hooks on|Fit the primer pump|Spirit level"},
		{"solvents", "note", "thin with acetone|wipe with alcohol", "keep free of paint|press home"},
		{"superglue", "fixing", "ca|thin-ca|super-glue|cyano|instant-glue|sekunden-kleber|zyanacrylat", "carpenter-glue|cascade"},
		{"superglue", "note", "super glue|superglued|a drop of thin CA|Sekundenkleber|cyano", "ca. 5 mm|ca 3 mm deep|CAD drawing"},
		{"epoxy", "note", "two-part epoxy|epoxied|two-part glue|2K-Kleber", "two parts"},
		{"soldering", "task", "Soldered wires|Unsolder it|Tin the ends|Hot iron|Lötkolben", "Soldier on|Flöte|Tin can|Iron cross"},
	} {
		for _, name := range strings.Split(c.has, "|") {
			if got := ids(plan.Hazards(hazardKit(t, frames[c.of](name)))); !slices.Contains(got, c.hazard) {
				t.Errorf("%s %q: no %s, only %v", c.of, name, c.hazard, got)
			}
		}
		for _, name := range strings.Split(c.not, "|") {
			if slices.Contains(ids(plan.Hazards(hazardKit(t, frames[c.of](name)))), c.hazard) {
				t.Errorf("%s %q: %s", c.of, name, c.hazard)
			}
		}
	}
}

// A place for a cell tells of it at the front, printed or bought; to fit the place is no
// work with a cell.
func TestPlaceForACell(t *testing.T) {
	r := plan.Derive(hazardKit(t, "parts: {hull: {}, x: {printed: resin, name: Coin cell holder, note: takes a CR2032}}\njoins: [{fit: x, to: hull, with: press}]"))
	front, step := ids(r.Hazards()), ids(r.StepHazards(0))
	for _, id := range []string{"button-cells", "batteries", "lithium"} {
		if !slices.Contains(front, id) || slices.Contains(step, id) {
			t.Errorf("%s: front %v, step %v", id, front, step)
		}
	}
}
