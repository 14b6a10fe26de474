package kits

import (
	"strings"
	"time"

	"dryfit/kits/format"
)

// This file is the kit format: every key, the shape of its value, and what it
// means. Nothing else in the program knows which keys there are.

var fixingFields = []format.Field[Fixing]{
	format.Key("kind", format.Choice(Glue, Press, Screw, Magnet, Loose), func(f *Fixing) *string { return &f.Kind },
		"what kind of fixing it is").Must(),
	format.Key("handle", format.Optional(format.Duration), func(f *Fixing) **time.Duration { return &f.handle },
		"time until the joined pieces can be handled; if not given, as built in, or none"),
	format.Key("cure", format.Optional(format.Duration), func(f *Fixing) **time.Duration { return &f.cure },
		"time until full strength; closing joins and tasks wait for it"),
	format.Key("opens", format.Optional(format.Flag), func(f *Fixing) **bool { return &f.opens },
		"whether joins made with it open again; screw, magnet and loose do unless this says otherwise"),
}

var partFields = []format.Field[Part]{
	format.Key("name", format.Words, func(p *Part) *string { return &p.Name },
		"what a person calls it; the id if not given"),
	format.Key("number", format.Optional(format.Place(format.Words)), func(p *Part) **format.Text { return &p.number },
		"the number you gave it on your drawings"),
	format.Key("printed", format.Choice(Resin, Filament), func(p *Part) *string { return &p.Printed },
		"how it is printed"),
	format.Key("material", format.Optional(format.ID), func(p *Part) **Ref { return &p.material },
		"what it is made of; if not given, resin or pla by how it is printed"),
	format.Key("mass", format.Optional(format.Positive(maxMass, "g")), func(p *Part) **format.Number { return &p.mass },
		"of each piece, in g; if not given, worked out from its mesh and material"),
	format.Key("fill", format.Optional(format.Percent), func(p *Part) **float64 { return &p.Fill },
		"filament: how full it is printed inside its walls, such as 15%; solid if neither this nor the balance says"),
	format.Key("bought", format.Flag, func(p *Part) *bool { return &p.Bought }, "it is bought"),
	format.Key("made", format.Flag, func(p *Part) *bool { return &p.Made }, "the builder makes it"),
	format.Key("mesh", format.FileName, func(p *Part) *string { return &p.Mesh },
		"its mesh file or object, when it is not named after the piece"),
	format.Key("size", format.Optional(size), func(p *Part) **Size { return &p.Size },
		"length along the model's x, y and z axes"),
	format.Key("quantity", format.Count(MaxPieces), func(p *Part) *int { return &p.Quantity },
		"how many copies stand in the model (default 1)"),
	format.Key("paint", format.Optional(format.Place(format.Choice("none", "before-fit", "before-close", "outside", "off-model", "masked"))),
		func(p *Part) **format.Text { return &p.paint },
		"none; before-fit: by itself; before-close: with its sub-build, before the space closes; outside: with the outside coat, on the model; off-model: by itself, fitted after that coat; masked: clear, kept unpainted"),
	format.Key("fragile", format.Flag, func(p *Part) *bool { return &p.Fragile }, "it breaks when the model is handled; fitted late"),
	format.Key("fixed-size", format.Flag, func(p *Part) *bool { return &p.FixedSize }, "it does not scale with the kit"),
	format.Key("note", format.Prose, func(p *Part) *string { return &p.Note }, "anything the builder should know"),
	format.Key("class", format.Choice("model", "tooling", "spare", "option"), func(p *Part) *string { return &p.Class },
		"model (default); option: may be left out; tooling and spare: listed, never in the model"),
	format.Key("pair", format.Optional(format.ID), func(p *Part) **Ref { return &p.pair }, "the mirrored part"),
	format.Key("spares", format.Count(MaxPieces), func(p *Part) *int { return &p.Spares }, "how many to have beyond those in the model"),
}

// Ways of saying when a step is done, shared by joins, wires and tasks.
func orderFields[T any](at func(*T) *Order) []format.Field[T] {
	return []format.Field[T]{
		format.Key("step", format.Optional(format.ID), func(v *T) **Ref { return &at(v).step }, "a name for this step"),
		format.Key("after", format.OneOrMore(pieceRef, 1, maxList), func(v *T) *[]Ref { return &at(v).after },
			"steps, wires or pieces that come before this"),
		format.Key("before", format.OneOrMore(pieceRef, 1, maxList), func(v *T) *[]Ref { return &at(v).before },
			"steps, wires or pieces that come after this"),
		format.Key("planned", format.Optional(format.Duration), func(v *T) **time.Duration { return &at(v).Planned },
			"when you plan this step, from the start of the build; checked against the times that joins and coats need"),
	}
}

var joinFields = append([]format.Field[Join]{
	format.Key("fit", format.Optional(format.Single(pieceRef, "names one part, which stands for all its copies, or one copy; write an entry for each part")), func(j *Join) **Ref { return &j.fit },
		"the piece, or the part with all its copies, that is fitted"),
	format.Key("to", format.OneOrMore(pieceRef, 1, maxList), func(j *Join) *[]Ref { return &j.to },
		"what it is fitted to; of several, all must already be in one group"),
	format.Key("close", format.List(pieceRef, 2, 2), func(j *Join) *[]Ref { return &j.close },
		"two pieces whose finished groups are closed on each other"),
	format.Key("with", format.Optional(format.ID), func(j *Join) **Ref { return &j.with }, "the fixing"),
	format.Key("toward", format.Optional(format.Direction), func(j *Join) **[3]float64 { return &j.Toward },
		"direction of travel into the seat"),
	format.Key("bench", format.Flag, func(j *Join) *bool { return &j.Bench },
		"the piece can first be built up on the bench: what sits on it need not wait"),
	format.Key("size", format.Optional(size), func(j *Join) **Size { return &j.Size },
		"size of the unit built on the bench, for passing openings"),
	format.Key("opens", format.Optional(format.Flag), func(j *Join) **bool { return &j.opens },
		"whether the join can be undone; if not given, as the fixing"),
	format.Key("takes", format.Duration, func(j *Join) *time.Duration { return &j.Takes }, "hands-on time"),
	format.Key("note", format.Prose, func(j *Join) *string { return &j.Note }, "anything the builder should know"),
}, orderFields(func(j *Join) *Order { return &j.Order })...)

var joinRules = []format.Rule{
	format.ExactlyOne("fit", "close"),
	format.OnlyWith("fit", "to"), format.OnlyWith("to", "fit"), format.OnlyWith("bench", "fit"),
	format.OnlyWith("size", "fit"),
}

var closerFields = []format.Field[closer]{
	format.Key("piece", format.Optional(pieceRef), func(c *closer) **Ref { return &c.piece }, "the piece that shuts the opening"),
	format.Key("opening", format.Optional(clearOpening), func(c *closer) **Opening { return &c.opening },
		"clear opening while the piece is off; a whole side if not given. With facing, along the other two axes in the sequence x, y, z"),
	format.Key("facing", format.Choice("x", "y", "z"), func(c *closer) *string { return &c.facing }, "the axis the opening faces"),
	format.Key("name", format.Optional(format.ID), func(c *closer) **Ref { return &c.name }, "a name for the opening"),
}

var closerRules = []format.Rule{format.AtLeastOne("piece", "opening"), format.OnlyWith("facing", "opening")}

// closer is an entry of closed-by as read.
type closer struct {
	pos     Pos
	piece   *Ref
	opening *Opening
	facing  string
	name    *Ref
}

var closerShape = format.Either(
	format.Mapped(pieceRef, func(p Ref) closer { return closer{pos: p.Pos, piece: &p} }),
	format.Object(func(c *closer) *Pos { return &c.pos }, closerFields, closerRules...))

var spaceFields = []format.Field[Space]{
	format.Key("closed-by", format.List(closerShape, 1, maxList), func(s *Space) *[]closer { return &s.closedBy },
		"the pieces that shut it, each a piece, or {piece, opening, facing, name}; without a piece the opening is never covered").Must(),
	format.Key("holds", format.OneOrMore(pieceRef, 0, maxList), func(s *Space) *[]Ref { return &s.holds }, "the pieces inside it"),
	format.Key("inside", format.Optional(format.ID), func(s *Space) **Ref { return &s.inside }, "a space that this space is within: both must be open"),
}

var wireFields = append([]format.Field[Wire]{
	format.Key("wire", format.ID, func(w *Wire) *Ref { return &w.id }, "its id").Must(),
	format.Key("from", pieceRef, func(w *Wire) *Ref { return &w.from }, "the piece it starts at").Must(),
	format.Key("to", pieceRef, func(w *Wire) *Ref { return &w.to }, "the piece it ends at").Must(),
	format.Key("through", format.OneOrMore(pieceRef, 1, maxList), func(w *Wire) *[]Ref { return &w.through },
		"pieces it is threaded through, in sequence"),
	format.Key("runs-in", format.OneOrMore(format.ID, 1, maxList), func(w *Wire) *[]Ref { return &w.runsIn }, "spaces it runs in"),
	format.Key("across", format.Optional(format.Mapped(format.Length, func(n format.Number) float64 { return n.Value })), func(w *Wire) **float64 { return &w.Across },
		"the widest of what is pulled through"),
	format.Key("hole", format.Optional(format.Length), func(w *Wire) **format.Number { return &w.hole }, "the narrowest hole on its run, across"),
	format.Key("bare", format.Flag, func(w *Wire) *bool { return &w.Bare },
		"it is threaded bare and its ends are put on afterwards, so ends wider than the hole do not matter"),
	format.Key("takes", format.Duration, func(w *Wire) *time.Duration { return &w.Takes }, "hands-on time"),
	format.Key("note", format.Prose, func(w *Wire) *string { return &w.Note }, "anything the builder should know"),
}, orderFields(func(w *Wire) *Order { return &w.Order })[1:]...)

var taskFields = append([]format.Field[Task]{
	format.Key("do", format.Words, func(t *Task) *string { return &t.Do }, "what is done").Must(),
	format.Key("coat", format.Choice("outside"), func(t *Task) *string { return &t.coat },
		"this is the outside coat: after all pieces painted outside, before all painted off-model"),
	format.Key("takes", format.Duration, func(t *Task) *time.Duration { return &t.Takes }, "hands-on time"),
	format.Key("cure", format.Duration, func(t *Task) *time.Duration { return &t.Cure }, "waiting time afterwards"),
	format.Key("note", format.Prose, func(t *Task) *string { return &t.Note }, "anything the builder should know"),
}, orderFields(func(t *Task) *Order { return &t.Order })...)

var serviceFields = []format.Field[Service]{
	format.Key("reach", pieceRef, func(s *Service) *Ref { return &s.reach }, "the piece that must stay in reach").Must(),
	format.Key("by-opening", format.OneOrMore(pieceRef, 1, maxList), func(s *Service) *[]Ref { return &s.ByOpening },
		"the covering piece or the named opening it is reached through; any if not given"),
}

var printerFields = []format.Field[Printer]{
	format.Key("process", format.Choice(Resin, Filament), func(p *Printer) *string { return &p.Process }, "how it prints").Must(),
	format.Key("volume", format.Optional(size), func(p *Printer) **Size { return &p.volume }, "width, depth and height that can be used").Must(),
	format.Key("layer", format.Optional(format.Length), func(p *Printer) **format.Number { return &p.layer }, "height of a layer (default 0.05 mm for resin, 0.2 mm for filament)"),
	format.Key("margin", format.Optional(format.Spare), func(p *Printer) **format.Number { return &p.margin }, "kept free between pieces on the bed (default 2 mm for resin, 5 mm for filament)"),
	format.Key("count", format.Count(maxOfKind), func(p *Printer) *int { return &p.Count }, "how many of them there are (default 1)"),
	format.Key("change", format.Optional(format.Duration), func(p *Printer) **time.Duration { return &p.change }, "from the end of a plate to the start of the next (default 15m)"),
	format.Key("exposure", format.Optional(format.Duration), func(p *Printer) **time.Duration { return &p.exposure }, "resin: light for a layer (default 2.5s)"),
	format.Key("motion", format.Optional(format.Duration), func(p *Printer) **time.Duration { return &p.motion }, "resin: lift, lower and rest for a layer (default 6s)"),
	format.Key("base-layers", format.Optional(format.Whole(0, 1000)), func(p *Printer) **int { return &p.baseLayers }, "resin: first layers that are lit for longer (default 5)"),
	format.Key("base-exposure", format.Optional(format.Duration), func(p *Printer) **time.Duration { return &p.baseExposure }, "resin: light for each of those (default 28s)"),
	format.Key("line", format.Optional(format.Length), func(p *Printer) **format.Number { return &p.line }, "filament: width of a line (default 0.4 mm)"),
	format.Key("flow", format.Optional(format.Positive(1000, "mm3 a second")), func(p *Printer) **format.Number { return &p.flow }, "filament: what is laid down, in mm3 a second whatever the units (default 8)"),
	format.Key("overhead", format.List(format.Positive(100, "number"), 2, 2), func(p *Printer) *[]format.Number { return &p.overhead }, "filament: least and most that a print takes, by the time the flow alone does (default [1.3, 1.6])"),
}

var materialFields = []format.Field[Material]{
	format.Key("process", format.Choice(Resin, Filament), func(m *Material) *string { return &m.Process }, "what prints it; not given for what is not printed"),
	format.Key("density", format.Positive(30, "g/cm3"), func(m *Material) *format.Number { return &m.density }, "in g/cm3, whatever the units").Must(),
}

var weighedFields = []format.Field[Weighed]{
	format.Key("mass", format.Positive(maxMass, "g"), func(w *Weighed) *format.Number { return &w.mass }, "in g").Must(),
	format.Key("at", format.Coordinate, func(w *Weighed) *format.Number { return &w.at }, "where it balances, along the axis").Must(),
}

var balanceFields = []format.Field[Balance]{
	format.Key("along", format.Choice("x", "y", "z"), func(b *Balance) *string { return &b.along }, "the axis along which the model must balance").Must(),
	format.Key("support", format.Optional(format.Coordinate), func(b *Balance) **format.Number { return &b.support }, "where along it the model stands, such as its main wheels").Must(),
	format.Key("margin", format.Optional(format.Spare), func(b *Balance) **format.Number { return &b.margin }, "how far on the ballast's side of the support it must balance at least (default 8 mm)"),
	format.Key("ballast", format.Optional(format.ID), func(b *Balance) **Ref { return &b.ballast }, "the part that is the ballast; with mass: on it that much is put in"),
	format.Key("at", format.Optional(format.Coordinate), func(b *Balance) **format.Number { return &b.at }, "where along the axis the ballast is; if not given, the middle of its mesh"),
	format.Key("pack", format.Optional(format.Positive(30, "g/cm3")), func(b *Balance) **format.Number { return &b.pack }, "how dense the ballast lies, in g/cm3 whatever the units (default 4.6, steel shot)"),
	format.Key("room", format.Optional(format.Positive(1e6, "cm3")), func(b *Balance) **format.Number { return &b.room }, "what there is room for, in cm3 whatever the units"),
	format.Key("inside", format.Optional(size), func(b *Balance) **Size { return &b.Inside }, "or the inside of the box that takes it"),
	format.Key("fill", format.Optional(format.Percent), func(b *Balance) **float64 { return &b.Fill }, "how full filament parts are printed inside their walls, where the part does not say"),
	format.Key("weighed", format.Optional(format.Object(func(w *Weighed) *Pos { return &w.Pos }, weighedFields)), func(b *Balance) **Weighed { return &b.Weighed },
		"the finished model without its ballast, as weighed and balanced dry; it takes the place of what is worked out"),
}

var balanceRules = []format.Rule{
	format.AtMostOne("room", "inside"), format.OnlyWith("at", "ballast"), format.OnlyWith("pack", "ballast"), format.OnlyWith("room", "ballast"), format.OnlyWith("inside", "ballast"),
}

var branchFields = []format.Field[Branch]{
	format.Key("lamps", format.OneOrMore(pieceRef, 1, maxList), func(b *Branch) *[]Ref { return &b.lamps }, "the lamps of the branch, one after the other on the same current").Must(),
	format.Key("colour", format.Choice(colours...), func(b *Branch) *string { return &b.colour }, "of the lamps, for the usual forward voltage"),
	format.Key("forward", format.Optional(format.Positive(maxVolts, "V")), func(b *Branch) **format.Number { return &b.forward }, "forward voltage of each lamp, if you know it"),
	format.Key("current", format.Positive(1000, "mA"), func(b *Branch) *format.Number { return &b.current }, "wanted, in mA").Must(),
	format.Key("resistor", format.Optional(format.Positive(1e7, "ohm")), func(b *Branch) **format.Number { return &b.resistor }, "in ohm; if not given, one is proposed"),
	format.Key("wires", format.OneOrMore(format.ID, 1, maxList), func(b *Branch) *[]Ref { return &b.wires }, "the wires of the kit that lead to it, in sequence from the supply"),
	format.Key("length", format.Optional(format.Length), func(b *Branch) **format.Number { return &b.length }, "of its pair of wires; if not given, worked out from meshes"),
}

var lightsFields = []format.Field[Lights]{
	format.Key("supply", format.Optional(pieceRef), func(l *Lights) **Ref { return &l.supply }, "the piece that supplies them, such as the battery"),
	format.Key("volts", format.Positive(maxVolts, "V"), func(l *Lights) *format.Number { return &l.volts }, "nominal voltage, for which resistors are worked out").Must(),
	format.Key("fresh", format.Optional(format.Positive(maxVolts, "V")), func(l *Lights) **format.Number { return &l.fresh }, "voltage when fresh (default: nominal)"),
	format.Key("flat", format.Optional(format.Positive(maxVolts, "V")), func(l *Lights) **format.Number { return &l.flat }, "voltage at which it counts as flat (default: nominal)"),
	format.Key("capacity", format.Optional(format.Positive(1e6, "mAh")), func(l *Lights) **format.Number { return &l.capacity }, "in mAh at a light load"),
	format.Key("gauge", format.Optional(format.Whole(0, 40)), func(l *Lights) **int { return &l.gauge }, "of the wire, AWG number"),
	format.Key("cover", format.Optional(format.Length), func(l *Lights) **format.Number { return &l.cover }, "across one wire with its cover"),
	format.Key("branches", format.Entries(format.Object(func(b *Branch) *Pos { return &b.Pos }, branchFields, format.AtLeastOne("colour", "forward")), 1, maxList),
		func(l *Lights) *[]*Branch { return &l.Branches }, "each with a resistor of its own").Must(),
}

var magnetFields = []format.Field[Magnets]{
	format.Key("magnet", format.Optional(pieceRef), func(m *Magnets) **Ref { return &m.magnet }, "the magnets: a part with all its copies, or one copy").Must(),
	format.Key("north", format.Optional(format.Direction), func(m *Magnets) **[3]float64 { return &m.north }, "the way the north pole points in the finished model").Must(),
	format.Key("mates", format.Optional(pieceRef), func(m *Magnets) **Ref { return &m.mates }, "the magnets that they hold to, which need an entry of their own"),
	format.Key("pocket", format.Optional(pocket), func(m *Magnets) **Pocket { return &m.Pocket }, "diameter and depth of the hole it sits in"),
}

var kitFields = []format.Field[Kit]{
	format.Key("kit", format.Words, func(k *Kit) *string { return &k.Name }, "the name of the kit").Must(),
	format.Key("about", format.Words, func(k *Kit) *string { return &k.About }, "one line about it"),
	format.Key("revision", format.Words, func(k *Kit) *string { return &k.Revision }, "the revision of the kit; stands on each page of the booklet"),
	format.Key("date", format.Words, func(k *Kit) *string { return &k.Date }, "the date of the revision"),
	format.Key("for", format.Words, func(k *Kit) *string { return &k.For }, "who the kit is for"),
	format.Key("contact", format.Words, func(k *Kit) *string { return &k.Contact }, "where builders can ask"),
	format.Key("licence", format.Prose, func(k *Kit) *string { return &k.Licence }, "what may be done with the files and the prints"),
	format.Key("tools", format.OneOrMore(format.Words, 1, maxList), func(k *Kit) *[]string { return &k.Tools }, "tools and consumables that the builder needs, by kind"),
	format.Key("scale", scaleRatio, func(k *Kit) *string { return &k.Scale }, "the scale of every size and mesh"),
	format.Key("units", format.Choice("mm", "cm", "in"), func(k *Kit) *string { return &k.units }, "unit of every length in the file (default mm)"),
	format.Key("clearance", format.Optional(format.Spare), func(k *Kit) **format.Number { return &k.clearance },
		"room to spare, in all, when a piece passes an opening (default 1 mm)"),
	format.Key("meshes", format.FileName, func(k *Kit) *string { return &k.Meshes },
		"folder beside this file, in which piece P is P.stl, P.3mf or P.obj, or one 3MF or OBJ file with an object for each piece; in assembled position"),
	format.Key("fixings", format.Map(format.ID, format.Object(func(f *Fixing) *Pos { return &f.Pos }, fixingFields), maxList,
		func(f *Fixing, r Ref) { f.ID = r.Name }), func(k *Kit) *[]*Fixing { return &k.Fixings },
		"what joins are made with, beside the built-in ones"),
	format.Key("parts", format.Map(format.ID, format.OrEmpty(format.Object(func(p *Part) *Pos { return &p.Pos }, partFields, format.AtMostOne("printed", "bought", "made"))), maxList,
		func(p *Part, r Ref) { p.ID, p.Pos = r.Name, r.Pos }), func(k *Kit) *[]*Part { return &k.Parts },
		"the parts list"),
	format.Key("joins", format.Entries(format.Object(func(j *Join) *Pos { return &j.Pos }, joinFields, joinRules...), 0, maxList),
		func(k *Kit) *[]*Join { return &k.Joins }, "what fixes pieces together; each entry is a step"),
	format.Key("spaces", format.Map(format.ID, format.Object(func(s *Space) *Pos { return &s.Pos }, spaceFields), maxList,
		func(s *Space, r Ref) { s.ID, s.Pos = r.Name, r.Pos }), func(k *Kit) *[]*Space { return &k.Spaces },
		"hollows of the model that become closed"),
	format.Key("wires", format.Entries(format.Object(func(w *Wire) *Pos { return &w.Pos }, wireFields), 0, maxList),
		func(k *Kit) *[]*Wire { return &k.Wires }, "wires; each is a step"),
	format.Key("tasks", format.Entries(format.Object(func(t *Task) *Pos { return &t.Pos }, taskFields), 0, maxList),
		func(k *Kit) *[]*Task { return &k.Tasks }, "other steps: paint, test, let cure"),
	format.Key("service", format.Entries(format.Object(func(s *Service) *Pos { return &s.Pos }, serviceFields), 0, maxList),
		func(k *Kit) *[]*Service { return &k.Service }, "what must stay possible on the finished model"),
	format.Key("materials", format.Map(format.ID, format.Object(func(m *Material) *Pos { return &m.Pos }, materialFields), maxList,
		func(m *Material, r Ref) { m.ID, m.Pos = r.Name, r.Pos }), func(k *Kit) *[]*Material { return &k.Materials },
		"what parts are made of, beside the built-in resin, pla, petg and abs"),
	format.Key("printers", format.Map(format.ID, format.Object(func(p *Printer) *Pos { return &p.Pos }, printerFields), maxPrinters,
		func(p *Printer, r Ref) { p.ID, p.Pos = r.Name, r.Pos }), func(k *Kit) *[]*Printer { return &k.Printers },
		"printers at hand, for the printing plan"),
	format.Key("balance", format.Optional(format.Object(func(b *Balance) *Pos { return &b.Pos }, balanceFields, balanceRules...)), func(k *Kit) **Balance { return &k.Balance },
		"where the model must balance, and its ballast"),
	format.Key("lights", format.Optional(format.Object(func(l *Lights) *Pos { return &l.Pos }, lightsFields)), func(k *Kit) **Lights { return &k.Lights },
		"lamps, their supply and their branches"),
	format.Key("magnets", format.Entries(format.Object(func(m *Magnets) *Pos { return &m.Pos }, magnetFields), 0, maxList), func(k *Kit) *[]*Magnets { return &k.Magnets },
		"which way magnets point, and what they hold to"),
}

var kitShape = format.Object(nil, kitFields)

// Schema returns the JSON Schema (draft 2020-12) of a kit file. It accepts and
// rejects what the reader does, except what only the whole file can tell: names
// that refer to nothing, rings of joins, duplicate keys.
func Schema() []byte {
	return kitShape.JSON("dryfit kit file", "A model kit: its parts, how they are joined, its spaces, wires and tasks.")
}

// Reference returns the reference of the kit format in Markdown, one table for
// each kind of mapping.
func Reference() string {
	var b strings.Builder
	format.Table(&b, "The file", kitFields)
	format.Table(&b, "An entry of `fixings`", fixingFields)
	format.Table(&b, "An entry of `parts`", partFields)
	format.Table(&b, "An entry of `joins`", joinFields)
	format.Table(&b, "An entry of `spaces`", spaceFields)
	format.Table(&b, "An entry of `closed-by`", closerFields)
	format.Table(&b, "An entry of `wires`", wireFields)
	format.Table(&b, "An entry of `tasks`", taskFields)
	format.Table(&b, "An entry of `service`", serviceFields)
	format.Table(&b, "An entry of `materials`", materialFields)
	format.Table(&b, "An entry of `printers`", printerFields)
	format.Table(&b, "`balance`", balanceFields)
	format.Table(&b, "`weighed`, in `balance`", weighedFields)
	format.Table(&b, "`lights`", lightsFields)
	format.Table(&b, "An entry of `branches`, in `lights`", branchFields)
	format.Table(&b, "An entry of `magnets`", magnetFields)
	return b.String()
}
