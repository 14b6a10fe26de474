package kits

import (
	"time"
)

// This file is the kit format: every key, the shape of its value, and what it
// means. Nothing else in the program knows which keys there are.

var fixingFields = []field[Fixing]{
	key("kind", choice(Glue, Press, Screw, Magnet, Loose), func(f *Fixing) *string { return &f.Kind },
		"what kind of fixing it is").must(),
	key("handle", optional(duration), func(f *Fixing) **time.Duration { return &f.handle },
		"time until the joined pieces can be handled; if not given, as built in, or none"),
	key("cure", optional(duration), func(f *Fixing) **time.Duration { return &f.cure },
		"time until full strength; closing joins and tasks wait for it"),
	key("opens", optional(flag), func(f *Fixing) **bool { return &f.opens },
		"whether joins made with it open again; screw, magnet and loose do unless this says otherwise"),
}

var partFields = []field[Part]{
	key("name", words, func(p *Part) *string { return &p.Name },
		"what a person calls it; the id if not given"),
	key("number", placed(words), func(p *Part) **text { return &p.number },
		"the number you gave it on your drawings"),
	key("printed", choice(Resin, Filament), func(p *Part) *string { return &p.Printed },
		"how it is printed"),
	key("material", optional(id), func(p *Part) **Ref { return &p.material },
		"what it is made of; if not given, resin or pla by how it is printed"),
	key("mass", optional(positive(maxMass, "g")), func(p *Part) **number { return &p.mass },
		"of each piece, in g; if not given, worked out from its mesh and material"),
	key("fill", optional(percent), func(p *Part) **float64 { return &p.Fill },
		"filament: how full it is printed inside its walls, such as 15%; solid if neither this nor the balance says"),
	key("bought", flag, func(p *Part) *bool { return &p.Bought }, "it is bought"),
	key("made", flag, func(p *Part) *bool { return &p.Made }, "the builder makes it"),
	key("mesh", fileName, func(p *Part) *string { return &p.Mesh },
		"its mesh file or object, when it is not named after the piece"),
	key("size", optional(size), func(p *Part) **Size { return &p.Size },
		"length along the model's x, y and z axes"),
	key("quantity", count(MaxPieces), func(p *Part) *int { return &p.Quantity },
		"how many copies stand in the model (default 1)"),
	key("paint", placed(choice("none", "before-fit", "before-close", "outside", "off-model", "masked")),
		func(p *Part) **text { return &p.paint },
		"none; before-fit: by itself; before-close: with its sub-build, before the space closes; outside: with the outside coat, on the model; off-model: by itself, fitted after that coat; masked: clear, kept unpainted"),
	key("fragile", flag, func(p *Part) *bool { return &p.Fragile }, "it breaks when the model is handled; fitted late"),
	key("fixed-size", flag, func(p *Part) *bool { return &p.FixedSize }, "it does not scale with the kit"),
	key("note", prose, func(p *Part) *string { return &p.Note }, "anything the builder should know"),
	key("class", choice("model", "tooling", "spare", "option"), func(p *Part) *string { return &p.Class },
		"model (default); option: may be left out; tooling and spare: listed, never in the model"),
	key("pair", optional(id), func(p *Part) **Ref { return &p.pair }, "the mirrored part"),
	key("spares", count(MaxPieces), func(p *Part) *int { return &p.Spares }, "how many to have beyond those in the model"),
}

// Ways of saying when a step is done, shared by joins, wires and tasks.
func orderFields[T any](at func(*T) *Order) []field[T] {
	return []field[T]{
		key("step", optional(id), func(v *T) **Ref { return &at(v).step }, "a name for this step"),
		key("after", oneOrMore(pieceRef, 1, maxList), func(v *T) *[]Ref { return &at(v).after },
			"steps, wires or pieces that come before this"),
		key("before", oneOrMore(pieceRef, 1, maxList), func(v *T) *[]Ref { return &at(v).before },
			"steps, wires or pieces that come after this"),
		key("planned", optional(duration), func(v *T) **time.Duration { return &at(v).Planned },
			"when you plan this step, from the start of the build; checked against the times that joins and coats need"),
	}
}

var joinFields = append([]field[Join]{
	key("fit", optional(single(pieceRef, "names one part, which stands for all its copies, or one copy; write an entry for each part")), func(j *Join) **Ref { return &j.fit },
		"the piece, or the part with all its copies, that is fitted"),
	key("to", oneOrMore(pieceRef, 1, maxList), func(j *Join) *[]Ref { return &j.to },
		"what it is fitted to; of several, all must already be in one group"),
	key("close", list(pieceRef, 2, 2), func(j *Join) *[]Ref { return &j.close },
		"two pieces whose finished groups are closed on each other"),
	key("with", optional(id), func(j *Join) **Ref { return &j.with }, "the fixing"),
	key("toward", optional(direction), func(j *Join) **[3]float64 { return &j.Toward },
		"direction of travel into the seat"),
	key("bench", flag, func(j *Join) *bool { return &j.Bench },
		"the piece can first be built up on the bench: what sits on it need not wait"),
	key("size", optional(size), func(j *Join) **Size { return &j.Size },
		"size of the unit built on the bench, for passing openings"),
	key("opens", optional(flag), func(j *Join) **bool { return &j.opens },
		"whether the join can be undone; if not given, as the fixing"),
	key("takes", duration, func(j *Join) *time.Duration { return &j.Takes }, "hands-on time"),
	key("note", prose, func(j *Join) *string { return &j.Note }, "anything the builder should know"),
}, orderFields(func(j *Join) *Order { return &j.Order })...)

var joinRules = []rule{
	exactlyOne("fit", "close"),
	onlyWith("fit", "to"), onlyWith("to", "fit"), onlyWith("bench", "fit"),
	onlyWith("size", "fit"),
}

var closerFields = []field[closer]{
	key("piece", optional(pieceRef), func(c *closer) **Ref { return &c.piece }, "the piece that shuts the opening"),
	key("opening", optional(clearOpening), func(c *closer) **Opening { return &c.opening },
		"clear opening while the piece is off; a whole side if not given. With facing, along the other two axes in the sequence x, y, z"),
	key("facing", choice("x", "y", "z"), func(c *closer) *string { return &c.facing }, "the axis the opening faces"),
	key("name", optional(id), func(c *closer) **Ref { return &c.name }, "a name for the opening"),
}

var closerRules = []rule{atLeastOne("piece", "opening"), onlyWith("facing", "opening")}

// closer is an entry of closed-by as read.
type closer struct {
	pos     Pos
	piece   *Ref
	opening *Opening
	facing  string
	name    *Ref
}

var closerShape = either(
	mapped(pieceRef, func(p Ref) closer { return closer{pos: p.Pos, piece: &p} }),
	object(func(c *closer) *Pos { return &c.pos }, closerFields, closerRules...))

var spaceFields = []field[Space]{
	key("closed-by", list(closerShape, 1, maxList), func(s *Space) *[]closer { return &s.closedBy },
		"the pieces that shut it, each a piece, or {piece, opening, facing, name}; without a piece the opening is never covered").must(),
	key("holds", oneOrMore(pieceRef, 0, maxList), func(s *Space) *[]Ref { return &s.holds }, "the pieces inside it"),
	key("inside", optional(id), func(s *Space) **Ref { return &s.inside }, "a space that this space is within: both must be open"),
}

var wireFields = append([]field[Wire]{
	key("wire", id, func(w *Wire) *Ref { return &w.id }, "its id").must(),
	key("from", pieceRef, func(w *Wire) *Ref { return &w.from }, "the piece it starts at").must(),
	key("to", pieceRef, func(w *Wire) *Ref { return &w.to }, "the piece it ends at").must(),
	key("through", oneOrMore(pieceRef, 1, maxList), func(w *Wire) *[]Ref { return &w.through },
		"pieces it is threaded through, in sequence"),
	key("runs-in", oneOrMore(id, 1, maxList), func(w *Wire) *[]Ref { return &w.runsIn }, "spaces it runs in"),
	key("across", optional(mapped(length, func(n number) float64 { return n.v })), func(w *Wire) **float64 { return &w.Across },
		"the widest of what is pulled through"),
	key("hole", optional(length), func(w *Wire) **number { return &w.hole }, "the narrowest hole on its run, across"),
	key("bare", flag, func(w *Wire) *bool { return &w.Bare },
		"it is threaded bare and its ends are put on afterwards, so ends wider than the hole do not matter"),
	key("takes", duration, func(w *Wire) *time.Duration { return &w.Takes }, "hands-on time"),
	key("note", prose, func(w *Wire) *string { return &w.Note }, "anything the builder should know"),
}, orderFields(func(w *Wire) *Order { return &w.Order })[1:]...)

var taskFields = append([]field[Task]{
	key("do", words, func(t *Task) *string { return &t.Do }, "what is done").must(),
	key("coat", choice("outside"), func(t *Task) *string { return &t.coat },
		"this is the outside coat: after all pieces painted outside, before all painted off-model"),
	key("takes", duration, func(t *Task) *time.Duration { return &t.Takes }, "hands-on time"),
	key("cure", duration, func(t *Task) *time.Duration { return &t.Cure }, "waiting time afterwards"),
	key("note", prose, func(t *Task) *string { return &t.Note }, "anything the builder should know"),
}, orderFields(func(t *Task) *Order { return &t.Order })...)

var serviceFields = []field[Service]{
	key("reach", pieceRef, func(s *Service) *Ref { return &s.reach }, "the piece that must stay in reach").must(),
	key("by-opening", oneOrMore(pieceRef, 1, maxList), func(s *Service) *[]Ref { return &s.ByOpening },
		"the covering piece or the named opening it is reached through; any if not given"),
}

var printerFields = []field[Printer]{
	key("process", choice(Resin, Filament), func(p *Printer) *string { return &p.Process }, "how it prints").must(),
	key("volume", optional(size), func(p *Printer) **Size { return &p.volume }, "width, depth and height that can be used").must(),
	key("layer", optional(length), func(p *Printer) **number { return &p.layer }, "height of a layer (default 0.05 mm for resin, 0.2 mm for filament)"),
	key("margin", optional(spare), func(p *Printer) **number { return &p.margin }, "kept free between pieces on the bed (default 2 mm for resin, 5 mm for filament)"),
	key("count", count(maxOfKind), func(p *Printer) *int { return &p.Count }, "how many of them there are (default 1)"),
	key("change", optional(duration), func(p *Printer) **time.Duration { return &p.change }, "from the end of a plate to the start of the next (default 15m)"),
	key("exposure", optional(duration), func(p *Printer) **time.Duration { return &p.exposure }, "resin: light for a layer (default 2.5s)"),
	key("motion", optional(duration), func(p *Printer) **time.Duration { return &p.motion }, "resin: lift, lower and rest for a layer (default 6s)"),
	key("base-layers", optional(whole(0, 1000)), func(p *Printer) **int { return &p.baseLayers }, "resin: first layers that are lit for longer (default 5)"),
	key("base-exposure", optional(duration), func(p *Printer) **time.Duration { return &p.baseExposure }, "resin: light for each of those (default 28s)"),
	key("line", optional(length), func(p *Printer) **number { return &p.line }, "filament: width of a line (default 0.4 mm)"),
	key("flow", optional(positive(1000, "mm3 a second")), func(p *Printer) **number { return &p.flow }, "filament: what is laid down, in mm3 a second whatever the units (default 8)"),
	key("overhead", list(positive(100, "number"), 2, 2), func(p *Printer) *[]number { return &p.overhead }, "filament: least and most that a print takes, by the time the flow alone does (default [1.3, 1.6])"),
}

var materialFields = []field[Material]{
	key("process", choice(Resin, Filament), func(m *Material) *string { return &m.Process }, "what prints it; not given for what is not printed"),
	key("density", positive(30, "g/cm3"), func(m *Material) *number { return &m.density }, "in g/cm3, whatever the units").must(),
}

var weighedFields = []field[Weighed]{
	key("mass", positive(maxMass, "g"), func(w *Weighed) *number { return &w.mass }, "in g").must(),
	key("at", coordinate, func(w *Weighed) *number { return &w.at }, "where it balances, along the axis").must(),
}

var balanceFields = []field[Balance]{
	key("along", choice("x", "y", "z"), func(b *Balance) *string { return &b.along }, "the axis along which the model must balance").must(),
	key("support", optional(coordinate), func(b *Balance) **number { return &b.support }, "where along it the model stands, such as its main wheels").must(),
	key("margin", optional(spare), func(b *Balance) **number { return &b.margin }, "how far on the ballast's side of the support it must balance at least (default 8 mm)"),
	key("ballast", optional(id), func(b *Balance) **Ref { return &b.ballast }, "the part that is the ballast; with mass: on it that much is put in"),
	key("at", optional(coordinate), func(b *Balance) **number { return &b.at }, "where along the axis the ballast is; if not given, the middle of its mesh"),
	key("pack", optional(positive(30, "g/cm3")), func(b *Balance) **number { return &b.pack }, "how dense the ballast lies, in g/cm3 whatever the units (default 4.6, steel shot)"),
	key("room", optional(positive(1e6, "cm3")), func(b *Balance) **number { return &b.room }, "what there is room for, in cm3 whatever the units"),
	key("inside", optional(size), func(b *Balance) **Size { return &b.Inside }, "or the inside of the box that takes it"),
	key("fill", optional(percent), func(b *Balance) **float64 { return &b.Fill }, "how full filament parts are printed inside their walls, where the part does not say"),
	key("weighed", optional(object(func(w *Weighed) *Pos { return &w.Pos }, weighedFields)), func(b *Balance) **Weighed { return &b.Weighed },
		"the finished model without its ballast, as weighed and balanced dry; it takes the place of what is worked out"),
}

var balanceRules = []rule{
	atMostOne("room", "inside"), onlyWith("at", "ballast"), onlyWith("pack", "ballast"), onlyWith("room", "ballast"), onlyWith("inside", "ballast"),
}

var branchFields = []field[Branch]{
	key("lamps", oneOrMore(pieceRef, 1, maxList), func(b *Branch) *[]Ref { return &b.lamps }, "the lamps of the branch, one after the other on the same current").must(),
	key("colour", choice(colours...), func(b *Branch) *string { return &b.colour }, "of the lamps, for the usual forward voltage"),
	key("forward", optional(positive(maxVolts, "V")), func(b *Branch) **number { return &b.forward }, "forward voltage of each lamp, if you know it"),
	key("current", positive(1000, "mA"), func(b *Branch) *number { return &b.current }, "wanted, in mA").must(),
	key("resistor", optional(positive(1e7, "ohm")), func(b *Branch) **number { return &b.resistor }, "in ohm; if not given, one is proposed"),
	key("wires", oneOrMore(id, 1, maxList), func(b *Branch) *[]Ref { return &b.wires }, "the wires of the kit that lead to it, in sequence from the supply"),
	key("length", optional(length), func(b *Branch) **number { return &b.length }, "of its pair of wires; if not given, worked out from meshes"),
}

var lightsFields = []field[Lights]{
	key("supply", optional(pieceRef), func(l *Lights) **Ref { return &l.supply }, "the piece that supplies them, such as the battery"),
	key("volts", positive(maxVolts, "V"), func(l *Lights) *number { return &l.volts }, "nominal voltage, for which resistors are worked out").must(),
	key("fresh", optional(positive(maxVolts, "V")), func(l *Lights) **number { return &l.fresh }, "voltage when fresh (default: nominal)"),
	key("flat", optional(positive(maxVolts, "V")), func(l *Lights) **number { return &l.flat }, "voltage at which it counts as flat (default: nominal)"),
	key("capacity", optional(positive(1e6, "mAh")), func(l *Lights) **number { return &l.capacity }, "in mAh at a light load"),
	key("gauge", optional(whole(0, 40)), func(l *Lights) **int { return &l.gauge }, "of the wire, AWG number"),
	key("cover", optional(length), func(l *Lights) **number { return &l.cover }, "across one wire with its cover"),
	key("branches", list(mapped(object(func(b *Branch) *Pos { return &b.Pos }, branchFields, atLeastOne("colour", "forward")), ptr), 1, maxList),
		func(l *Lights) *[]*Branch { return &l.Branches }, "each with a resistor of its own").must(),
}

var magnetFields = []field[Magnets]{
	key("magnet", optional(pieceRef), func(m *Magnets) **Ref { return &m.magnet }, "the magnets: a part with all its copies, or one copy").must(),
	key("north", optional(direction), func(m *Magnets) **[3]float64 { return &m.north }, "the way the north pole points in the finished model").must(),
	key("mates", optional(pieceRef), func(m *Magnets) **Ref { return &m.mates }, "the magnets that they hold to, which need an entry of their own"),
	key("pocket", optional(pocket), func(m *Magnets) **Pocket { return &m.Pocket }, "diameter and depth of the hole it sits in"),
}

var kitFields = []field[Kit]{
	key("kit", words, func(k *Kit) *string { return &k.Name }, "the name of the kit").must(),
	key("about", words, func(k *Kit) *string { return &k.About }, "one line about it"),
	key("revision", words, func(k *Kit) *string { return &k.Revision }, "the revision of the kit; stands on each page of the booklet"),
	key("date", words, func(k *Kit) *string { return &k.Date }, "the date of the revision"),
	key("for", words, func(k *Kit) *string { return &k.For }, "who the kit is for"),
	key("contact", words, func(k *Kit) *string { return &k.Contact }, "where builders can ask"),
	key("licence", prose, func(k *Kit) *string { return &k.Licence }, "what may be done with the files and the prints"),
	key("tools", oneOrMore(words, 1, maxList), func(k *Kit) *[]string { return &k.Tools }, "tools and consumables that the builder needs, by kind"),
	key("scale", scaleRatio, func(k *Kit) *string { return &k.Scale }, "the scale of every size and mesh"),
	key("units", choice("mm", "cm", "in"), func(k *Kit) *string { return &k.units }, "unit of every length in the file (default mm)"),
	key("clearance", optional(spare), func(k *Kit) **number { return &k.clearance },
		"room to spare, in all, when a piece passes an opening (default 1 mm)"),
	key("meshes", fileName, func(k *Kit) *string { return &k.Meshes },
		"folder beside this file, in which piece P is P.stl, P.3mf or P.obj, or one 3MF or OBJ file with an object for each piece; in assembled position"),
	key("fixings", named(object(func(f *Fixing) *Pos { return &f.Pos }, fixingFields), maxList,
		func(f *Fixing, r Ref) { f.ID = r.Name }), func(k *Kit) *[]*Fixing { return &k.Fixings },
		"what joins are made with, beside the built-in ones"),
	key("parts", named(orEmpty(object(func(p *Part) *Pos { return &p.Pos }, partFields, atMostOne("printed", "bought", "made"))), maxList,
		func(p *Part, r Ref) { p.ID, p.Pos = r.Name, r.Pos }), func(k *Kit) *[]*Part { return &k.Parts },
		"the parts list"),
	key("joins", list(mapped(object(func(j *Join) *Pos { return &j.Pos }, joinFields, joinRules...), ptr), 0, maxList),
		func(k *Kit) *[]*Join { return &k.Joins }, "what fixes pieces together; each entry is a step"),
	key("spaces", named(object(func(s *Space) *Pos { return &s.Pos }, spaceFields), maxList,
		func(s *Space, r Ref) { s.ID, s.Pos = r.Name, r.Pos }), func(k *Kit) *[]*Space { return &k.Spaces },
		"hollows of the model that become closed"),
	key("wires", list(mapped(object(func(w *Wire) *Pos { return &w.Pos }, wireFields), ptr), 0, maxList),
		func(k *Kit) *[]*Wire { return &k.Wires }, "wires; each is a step"),
	key("tasks", list(mapped(object(func(t *Task) *Pos { return &t.Pos }, taskFields), ptr), 0, maxList),
		func(k *Kit) *[]*Task { return &k.Tasks }, "other steps: paint, test, let cure"),
	key("service", list(mapped(object(func(s *Service) *Pos { return &s.Pos }, serviceFields), ptr), 0, maxList),
		func(k *Kit) *[]*Service { return &k.Service }, "what must stay possible on the finished model"),
	key("materials", named(object(func(m *Material) *Pos { return &m.Pos }, materialFields), maxList,
		func(m *Material, r Ref) { m.ID, m.Pos = r.Name, r.Pos }), func(k *Kit) *[]*Material { return &k.Materials },
		"what parts are made of, beside the built-in resin, pla, petg and abs"),
	key("printers", named(object(func(p *Printer) *Pos { return &p.Pos }, printerFields), maxPrinters,
		func(p *Printer, r Ref) { p.ID, p.Pos = r.Name, r.Pos }), func(k *Kit) *[]*Printer { return &k.Printers },
		"printers at hand, for the printing plan"),
	key("balance", optional(object(func(b *Balance) *Pos { return &b.Pos }, balanceFields, balanceRules...)), func(k *Kit) **Balance { return &k.Balance },
		"where the model must balance, and its ballast"),
	key("lights", optional(object(func(l *Lights) *Pos { return &l.Pos }, lightsFields)), func(k *Kit) **Lights { return &k.Lights },
		"lamps, their supply and their branches"),
	key("magnets", list(mapped(object(func(m *Magnets) *Pos { return &m.Pos }, magnetFields), ptr), 0, maxList), func(k *Kit) *[]*Magnets { return &k.Magnets },
		"which way magnets point, and what they hold to"),
}

var kitShape = object(nil, kitFields)

func ptr[T any](v T) *T { return &v }
