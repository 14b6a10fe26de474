package kits

import (
	"strings"
	"time"

	"dryfit/kits/format"
	"dryfit/kits/geom"
)

// This file is the kit format: every key, the shape of its value, and what it means.
// Nothing else in the program lists the keys.

var fixingFields = []format.Field[Fixing]{
	format.Key("kind", format.Choice(Glue, Press, Screw, Magnet, Loose), func(f *Fixing) *string { return &f.Kind },
		"the kind of fixing").Must(),
	format.Key("handle", format.Optional(format.Duration), func(f *Fixing) **time.Duration { return &f.handle },
		"time until the joined pieces can be handled (default: as built in, or none)"),
	format.Key("cure", format.Optional(format.Duration), func(f *Fixing) **time.Duration { return &f.cure },
		"time to full strength; closings and tasks wait for it"),
	format.Key("opens", format.Optional(format.Flag), func(f *Fixing) **bool { return &f.opens },
		"whether joins made with it can be undone (default: yes for screw, magnet and loose)"),
}

var partFields = []format.Field[Part]{
	format.Key("name", format.Words, func(p *Part) *string { return &p.Name },
		"its name for people (default: the id)"),
	format.Key("number", format.Optional(format.Place(format.Words)), func(p *Part) **format.Text { return &p.number },
		"your own part number, as on your drawings"),
	format.Key("printed", format.Choice(Resin, Filament), func(p *Part) *string { return &p.Printed },
		"how it is printed"),
	format.Key("material", format.Optional(format.ID), func(p *Part) **Ref { return &p.material },
		"what it is made of (default: resin or pla, by how it is printed)"),
	format.Key("mass", format.Optional(format.Positive(maxMass, "g")), func(p *Part) **format.Number { return &p.mass },
		"mass of each piece in g (default: from its mesh and material)"),
	format.Key("fill", format.Optional(format.Percent), func(p *Part) **float64 { return &p.Fill },
		"filament: infill, such as 15% (default: the fill of balance, or solid)"),
	format.Key("bought", format.Flag, func(p *Part) *bool { return &p.Bought }, "it is bought ready-made"),
	format.Key("made", format.Flag, func(p *Part) *bool { return &p.Made }, "the builder makes it from raw material"),
	format.Key("mesh", format.FileName, func(p *Part) *string { return &p.Mesh },
		"its mesh file or object, if that is not named after the piece"),
	format.Key("size", format.Optional(size), func(p *Part) **Size { return &p.Size },
		"size along the model's x, y and z axes"),
	format.Key("quantity", format.Count(MaxPieces), func(p *Part) *int { return &p.Quantity },
		"how many copies the model has (default 1)"),
	format.Key("paint", format.Optional(format.Place(format.Choice(PaintNone, PaintBeforeFit, PaintBeforeClose, PaintOutside, PaintOffModel, PaintMasked))),
		func(p *Part) **format.Text { return &p.paint },
		"none; before-fit: painted on its own; before-close: painted with its sub-build, before the space closes; outside: painted on the model, with the outside coat; off-model: painted on its own and fitted after that coat; masked: clear, never painted"),
	format.Key("colour", format.Words, func(p *Part) *string { return &p.Colour }, "the colour that it is painted, for the paint list"),
	format.Key("fragile", format.Flag, func(p *Part) *bool { return &p.Fragile }, "it breaks easily when the model is handled, so it is fitted late"),
	format.Key("fixed-size", format.Flag, func(p *Part) *bool { return &p.FixedSize }, "it keeps its size when the kit is rescaled"),
	format.Key("note", format.Prose, func(p *Part) *string { return &p.Note }, "a note for the builder"),
	format.Key("class", format.Choice("model", "tooling", "spare", "option"), func(p *Part) *string { return &p.Class },
		"model (default); option: may be left out; tooling, spare: listed, but never part of the model"),
	format.Key("pair", format.Optional(format.ID), func(p *Part) **Ref { return &p.pair }, "the mirrored part"),
	format.Key("spares", format.Optional(format.Whole(0, MaxPieces)), func(p *Part) **int { return &p.spares },
		"how many spare copies to print or buy (default: fragile-spares of the kit for a fragile part that is printed)"),
	format.Key("orient", format.Optional(format.Direction), func(p *Part) **geom.Vec { return &p.Orient },
		"the direction of the model that points up while it is printed (default: chosen by cost)"),
	format.Key("face", format.Optional(format.Direction), func(p *Part) **geom.Vec { return &p.Face },
		"the direction in which its visible faces face (default: those seen from outside on the finished model)"),
}

// orderFields say when a step is done. Joins, wires and tasks share them.
func orderFields[T any](at func(*T) *Order) []format.Field[T] {
	return []format.Field[T]{
		format.Key("step", format.Optional(format.ID), func(v *T) **Ref { return &at(v).step }, "a name for this step"),
		format.Key("after", format.OneOrMore(pieceRef, 1, maxList), func(v *T) *[]Ref { return &at(v).after },
			"steps, wires or pieces that must come before this step"),
		format.Key("before", format.OneOrMore(pieceRef, 1, maxList), func(v *T) *[]Ref { return &at(v).before },
			"steps, wires or pieces that must come after this step"),
		format.Key("planned", format.Optional(format.Duration), func(v *T) **time.Duration { return &at(v).Planned },
			"when you plan to do this step, counted from the start of the build; checked against the time that joins and coats need"),
	}
}

var joinFields = append([]format.Field[Join]{
	format.Key("fit", format.Optional(format.Single(pieceRef, "takes one part, meaning all its copies, or one copy; write an entry for each part")), func(j *Join) **Ref { return &j.fit },
		"the piece to fit, or a part to fit all its copies"),
	format.Key("to", format.OneOrMore(pieceRef, 1, maxList), func(j *Join) *[]Ref { return &j.to },
		"what it is fitted to; if several, they must already be joined to each other"),
	format.Key("close", format.List(pieceRef, 2, 2), func(j *Join) *[]Ref { return &j.close },
		"two pieces whose finished groups are joined"),
	format.Key("with", format.Optional(format.ID), func(j *Join) **Ref { return &j.with }, "the fixing"),
	format.Key("toward", format.Optional(format.Mapped(format.Direction, func(d geom.Vec) [3]float64 { return d })), func(j *Join) **[3]float64 { return &j.Toward },
		"direction in which it moves into its seat"),
	format.Key("bench", format.Flag, func(j *Join) *bool { return &j.Bench },
		"the piece can be built up on the bench first, so what sits on it need not wait"),
	format.Key("size", format.Optional(size), func(j *Join) **Size { return &j.Size },
		"size of the unit built on the bench, to check that it passes openings"),
	format.Key("opens", format.Optional(format.Flag), func(j *Join) **bool { return &j.opens },
		"whether the join can be undone (default: as its fixing)"),
	format.Key("takes", format.Duration, func(j *Join) *time.Duration { return &j.Takes }, "hands-on time"),
	format.Key("note", format.Prose, func(j *Join) *string { return &j.Note }, "a note for the builder"),
}, orderFields(func(j *Join) *Order { return &j.Order })...)

var joinRules = []format.Rule{
	format.ExactlyOne("fit", "close"),
	format.OnlyWith("fit", "to"), format.OnlyWith("to", "fit"), format.OnlyWith("bench", "fit"),
	format.OnlyWith("size", "fit"),
}

var closerFields = []format.Field[closer]{
	format.Key("piece", format.Optional(pieceRef), func(c *closer) **Ref { return &c.piece }, "the piece that closes the opening"),
	format.Key("opening", format.Optional(clearOpening), func(c *closer) **Opening { return &c.opening },
		"clear opening while the piece is off (default: a whole side); with facing, the sizes are along the other two axes, in the order x, y, z"),
	format.Key("facing", format.Choice("x", "y", "z"), func(c *closer) *string { return &c.facing }, "the axis that the opening faces"),
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
		"the pieces that close it: each a piece, or {piece, opening, facing, name}; an opening without a piece is never covered").Must(),
	format.Key("holds", format.OneOrMore(pieceRef, 0, maxList), func(s *Space) *[]Ref { return &s.holds }, "the pieces inside it"),
	format.Key("inside", format.Optional(format.ID), func(s *Space) **Ref { return &s.inside }, "the space that this one is inside; both must be open to reach in"),
}

var wireFields = append([]format.Field[Wire]{
	format.Key("wire", format.ID, func(w *Wire) *Ref { return &w.id }, "its id").Must(),
	format.Key("from", pieceRef, func(w *Wire) *Ref { return &w.from }, "the piece it starts at").Must(),
	format.Key("to", pieceRef, func(w *Wire) *Ref { return &w.to }, "the piece it ends at").Must(),
	format.Key("through", format.OneOrMore(pieceRef, 1, maxList), func(w *Wire) *[]Ref { return &w.through },
		"pieces it is threaded through, in order"),
	format.Key("runs-in", format.OneOrMore(format.ID, 1, maxList), func(w *Wire) *[]Ref { return &w.runsIn }, "spaces it runs through; those that hold an end, or a piece that it is threaded through, count by themselves"),
	format.Key("across", format.Optional(format.Mapped(format.Length, func(n format.Number) float64 { return n.Value })), func(w *Wire) **float64 { return &w.Across },
		"widest part that is pulled through"),
	format.Key("hole", format.Optional(format.Length), func(w *Wire) **format.Number { return &w.hole }, "diameter of the narrowest hole on its way"),
	format.Key("bare", format.Flag, func(w *Wire) *bool { return &w.Bare },
		"its ends are fitted after threading, so they may be wider than the hole"),
	format.Key("takes", format.Duration, func(w *Wire) *time.Duration { return &w.Takes }, "hands-on time"),
	format.Key("note", format.Prose, func(w *Wire) *string { return &w.Note }, "a note for the builder"),
}, orderFields(func(w *Wire) *Order { return &w.Order })[1:]...)

var taskFields = append([]format.Field[Task]{
	format.Key("do", format.Words, func(t *Task) *string { return &t.Do }, "what to do").Must(),
	format.Key("coat", format.Choice("outside"), func(t *Task) *string { return &t.coat },
		"marks the outside coat, which comes after every piece painted outside and before every piece painted off-model"),
	format.Key("takes", format.Duration, func(t *Task) *time.Duration { return &t.Takes }, "hands-on time"),
	format.Key("cure", format.Duration, func(t *Task) *time.Duration { return &t.Cure }, "drying or curing time afterwards"),
	format.Key("note", format.Prose, func(t *Task) *string { return &t.Note }, "a note for the builder"),
}, orderFields(func(t *Task) *Order { return &t.Order })...)

var serviceFields = []format.Field[Service]{
	format.Key("reach", pieceRef, func(s *Service) *Ref { return &s.reach }, "the piece that must stay accessible").Must(),
	format.Key("by-opening", format.OneOrMore(pieceRef, 1, maxList), func(s *Service) *[]Ref { return &s.ByOpening },
		"the covering piece or named opening through which it is reached (default: any)"),
}

var supportFields = []format.Field[Support]{
	format.Key("angle", format.Optional(format.Positive(89, "degrees")), func(s *Support) **format.Number { return &s.angle }, "faces that lean out at a smaller angle from the bed need support, in degrees (default 45); a face at just that angle needs it of resin, not of filament"),
	format.Key("fill", format.Optional(format.Percent), func(s *Support) **float64 { return &s.fill }, "how much of the room under such faces the supports fill (default 5% for resin, 15% for filament)"),
	format.Key("raise", format.Optional(format.Spare), func(s *Support) **format.Number { return &s.raise }, "resin: how far supports raise a part above the bed (default 5 mm)"),
	format.Key("bridge", format.Optional(format.Spare), func(s *Support) **format.Number { return &s.bridge }, "filament: the longest gap that a flat underside spans without support (default 10 mm)"),
}

var printerFields = []format.Field[Printer]{
	format.Key("process", format.Choice(Resin, Filament), func(p *Printer) *string { return &p.Process }, "printing process").Must(),
	format.Key("volume", format.Optional(size), func(p *Printer) **Size { return &p.volume }, "usable width, depth and height").Must(),
	format.Key("layer", format.Optional(format.Length), func(p *Printer) **format.Number { return &p.layer }, "layer height (default 0.05 mm for resin, 0.2 mm for filament)"),
	format.Key("margin", format.Optional(format.Spare), func(p *Printer) **format.Number { return &p.margin }, "gap between pieces on the bed (default 2 mm for resin, 5 mm for filament)"),
	format.Key("edge", format.Optional(format.Spare), func(p *Printer) **format.Number { return &p.edge }, "kept free along the sides of the bed (default 2 mm for resin, 3 mm for filament)"),
	format.Key("border", format.Optional(format.Spare), func(p *Printer) **format.Number { return &p.border }, "width of the raft or brim around each piece (default 0)"),
	format.Key("count", format.Count(maxOfKind), func(p *Printer) *int { return &p.Count }, "how many you have (default 1)"),
	format.Key("change", format.Optional(format.Duration), func(p *Printer) **time.Duration { return &p.change }, "time from the end of one plate to the start of the next (default 15m)"),
	format.Key("longest", format.Optional(format.Duration), func(p *Printer) **time.Duration { return &p.longest }, "longest time that a plate may take (default any)"),
	format.Key("hours", format.List(format.Duration, 2, 2), func(p *Printer) *[]time.Duration { return &p.hours }, "from and until when somebody can change plates, from midnight, such as [7h, 22h] (default round the clock)"),
	format.Key("exposure", format.Optional(format.Duration), func(p *Printer) **time.Duration { return &p.exposure }, "resin: exposure of a layer (default 3s)"),
	format.Key("motion", format.Optional(format.Duration), func(p *Printer) **time.Duration { return &p.motion }, "resin: time to lift, lower and rest between layers (default 6s)"),
	format.Key("base-layers", format.Optional(format.Whole(0, 1000)), func(p *Printer) **int { return &p.baseLayers }, "resin: number of base layers with longer exposure (default 5)"),
	format.Key("base-exposure", format.Optional(format.Duration), func(p *Printer) **time.Duration { return &p.baseExposure }, "resin: exposure of a base layer (default 30s)"),
	format.Key("line", format.Optional(format.Length), func(p *Printer) **format.Number { return &p.line }, "filament: line width (default 0.4 mm)"),
	format.Key("flow", format.Optional(format.Positive(1000, "mm3 a second")), func(p *Printer) **format.Number { return &p.flow }, "filament: flow, always in mm3 per second (default 8)"),
	format.Key("overhead", format.List(format.Positive(100, "number"), 2, 2), func(p *Printer) *[]format.Number { return &p.overhead }, "filament: shortest and longest printing time, as multiples of the time that the flow alone takes (default [1.3, 1.6])"),
	format.Key("support", format.Optional(format.Object(func(s *Support) *Pos { return &s.Pos }, supportFields)), func(p *Printer) **Support { return &p.support }, "what needs support, and how much its supports take"),
}

var materialFields = []format.Field[Material]{
	format.Key("process", format.Choice(Resin, Filament), func(m *Material) *string { return &m.Process }, "the process that prints it; leave out if it is not printed"),
	format.Key("density", format.Positive(30, "g/cm3"), func(m *Material) *format.Number { return &m.density }, "density, always in g/cm3").Must(),
	format.Key("package", format.Optional(format.Positive(maxMass, "g")), func(m *Material) **format.Number { return &m.pack }, "how much is in a bottle or on a spool, always in g"),
	format.Key("price", format.Optional(price), func(m *Material) **Price { return &m.Price }, "price of such a package, with its currency, such as 24.90 EUR"),
}

var materialRules = []format.Rule{format.OnlyWith("price", "package")}

var price = format.Mapped(format.Pattern(`^[0-9]{1,7}(\.[0-9]{1,2})? [A-Z]{3}$`, "price", "is not a price: write a number and a currency of three letters, such as 24.90 EUR"), priceOf)

var weighedFields = []format.Field[Weighed]{
	format.Key("mass", format.Positive(maxMass, "g"), func(w *Weighed) *format.Number { return &w.mass }, "mass in g").Must(),
	format.Key("at", format.Coordinate, func(w *Weighed) *format.Number { return &w.at }, "where it balances along the axis").Must(),
}

var paintingFields = []format.Field[Painting]{
	format.Key("takes", format.Duration, func(p *Painting) *time.Duration { return &p.Takes }, "hands-on time for each piece, all its coats together").Must(),
	format.Key("sets", format.Duration, func(p *Painting) *time.Duration { return &p.Sets }, "time after that until it can be handled"),
}

var balanceFields = []format.Field[Balance]{
	format.Key("along", format.Choice("x", "y", "z"), func(b *Balance) *string { return &b.along }, "the axis along which the model must balance").Must(),
	format.Key("support", format.Optional(format.Coordinate), func(b *Balance) **format.Number { return &b.support }, "where it is supported along that axis, for example at its main wheels").Must(),
	format.Key("margin", format.Optional(format.Spare), func(b *Balance) **format.Number { return &b.margin }, "how far from the support, toward the ballast, its centre of mass must be at least (default 8 mm)"),
	format.Key("ballast", format.Optional(format.ID), func(b *Balance) **Ref { return &b.ballast }, "the part that is the ballast; its mass, if given, is how much to put in"),
	format.Key("at", format.Optional(format.Coordinate), func(b *Balance) **format.Number { return &b.at }, "where the ballast is along the axis (default: the middle of its mesh)"),
	format.Key("pack", format.Optional(format.Positive(30, "g/cm3")), func(b *Balance) **format.Number { return &b.pack }, "packed density of the ballast, always in g/cm3 (default 4.6, steel shot)"),
	format.Key("room", format.Optional(format.Positive(1e6, "cm3")), func(b *Balance) **format.Number { return &b.room }, "room for ballast, always in cm3"),
	format.Key("inside", format.Optional(size), func(b *Balance) **Size { return &b.Inside }, "or the inside of the box that holds it"),
	format.Key("fill", format.Optional(format.Percent), func(b *Balance) **float64 { return &b.Fill }, "infill of filament parts that do not state their own"),
	format.Key("weighed", format.Optional(format.Object(func(w *Weighed) *Pos { return &w.Pos }, weighedFields)), func(b *Balance) **Weighed { return &b.Weighed },
		"the finished model without ballast, as weighed and balanced; replaces the estimate"),
}

var balanceRules = []format.Rule{
	format.AtMostOne("room", "inside"), format.OnlyWith("at", "ballast"), format.OnlyWith("pack", "ballast"), format.OnlyWith("room", "ballast"), format.OnlyWith("inside", "ballast"),
}

var branchFields = []format.Field[Branch]{
	format.Key("lamps", format.OneOrMore(pieceRef, 1, maxList), func(b *Branch) *[]Ref { return &b.lamps }, "the lamps of the branch, in series").Must(),
	format.Key("colour", format.Choice(colours...), func(b *Branch) *string { return &b.colour }, "colour of the lamps, for their usual forward voltage"),
	format.Key("forward", format.Optional(format.Positive(maxVolts, "V")), func(b *Branch) **format.Number { return &b.forward }, "forward voltage of each lamp, if known"),
	format.Key("current", format.Positive(1000, "mA"), func(b *Branch) *format.Number { return &b.current }, "intended current in mA").Must(),
	format.Key("resistor", format.Optional(format.Positive(1e7, "ohm")), func(b *Branch) **format.Number { return &b.resistor }, "resistor in ohm (default: one is proposed)"),
	format.Key("wires", format.OneOrMore(format.ID, 1, maxList), func(b *Branch) *[]Ref { return &b.wires }, "the wires of the kit that lead to it, in order from the supply"),
	format.Key("length", format.Optional(format.Length), func(b *Branch) **format.Number { return &b.length }, "length of its pair of wires (default: from the meshes)"),
}

var lightsFields = []format.Field[Lights]{
	format.Key("supply", format.Optional(pieceRef), func(l *Lights) **Ref { return &l.supply }, "the piece that powers them, such as the battery"),
	format.Key("volts", format.Positive(maxVolts, "V"), func(l *Lights) *format.Number { return &l.volts }, "nominal voltage, for which resistors are calculated").Must(),
	format.Key("fresh", format.Optional(format.Positive(maxVolts, "V")), func(l *Lights) **format.Number { return &l.fresh }, "voltage when fresh (default: volts)"),
	format.Key("flat", format.Optional(format.Positive(maxVolts, "V")), func(l *Lights) **format.Number { return &l.flat }, "voltage at which it counts as empty (default: volts)"),
	format.Key("capacity", format.Optional(format.Positive(1e6, "mAh")), func(l *Lights) **format.Number { return &l.capacity }, "capacity in mAh at a light load"),
	format.Key("gauge", format.Optional(format.Whole(0, 40)), func(l *Lights) **int { return &l.Gauge }, "wire gauge, AWG"),
	format.Key("cover", format.Optional(format.Length), func(l *Lights) **format.Number { return &l.cover }, "diameter of one wire with its insulation"),
	format.Key("branches", format.Entries(format.Object(func(b *Branch) *Pos { return &b.Pos }, branchFields, format.AtLeastOne("colour", "forward")), 1, maxList),
		func(l *Lights) *[]*Branch { return &l.Branches }, "the branches, each with its own resistor").Must(),
}

var magnetFields = []format.Field[Magnets]{
	format.Key("magnet", format.Optional(pieceRef), func(m *Magnets) **Ref { return &m.magnet }, "the magnets: a part, meaning all its copies, or one copy").Must(),
	format.Key("north", format.Optional(format.Direction), func(m *Magnets) **geom.Vec { return &m.north }, "direction of the north pole in the finished model").Must(),
	format.Key("mates", format.Optional(pieceRef), func(m *Magnets) **Ref { return &m.mates }, "the magnets that they pair with, which need their own entry"),
	format.Key("pocket", format.Optional(pocket), func(m *Magnets) **Pocket { return &m.Pocket }, "diameter and depth of its pocket"),
}

var kitFields = []format.Field[Kit]{
	format.Key("kit", format.Words, func(k *Kit) *string { return &k.Name }, "the name of the kit").Must(),
	format.Key("about", format.Words, func(k *Kit) *string { return &k.About }, "a line about the kit"),
	format.Key("revision", format.Words, func(k *Kit) *string { return &k.Revision }, "the revision of the kit, printed on each page of the booklet"),
	format.Key("date", format.Words, func(k *Kit) *string { return &k.Date }, "the date of the revision"),
	format.Key("for", format.Words, func(k *Kit) *string { return &k.For }, "who the kit is for"),
	format.Key("contact", format.Words, func(k *Kit) *string { return &k.Contact }, "where builders can ask questions"),
	format.Key("licence", format.Prose, func(k *Kit) *string { return &k.Licence }, "the licence of the files and the prints"),
	format.Key("tools", format.OneOrMore(format.Words, 1, maxList), func(k *Kit) *[]string { return &k.Tools }, "tools and consumables that the builder needs"),
	format.Key("scale", scaleRatio, func(k *Kit) *string { return &k.Scale }, "the scale of all sizes and meshes"),
	format.Key("units", format.Choice("mm", "cm", "in"), func(k *Kit) *string { return &k.units }, "unit of all lengths in the file (default mm)"),
	format.Key("clearance", format.Optional(format.Spare), func(k *Kit) **format.Number { return &k.clearance },
		"total clearance when a piece passes an opening (default 1 mm)"),
	format.Key("fragile-spares", format.Count(MaxPieces), func(k *Kit) *int { return &k.FragileSpares },
		"how many spare copies to print of each fragile part of the model that states no spares (default none)"),
	format.Key("fit", format.Optional(format.Spare), func(k *Kit) **format.Number { return &k.fit },
		"gap between meshes up to which pieces fitted to each other count as touching (default 0.5 mm)"),
	format.Key("meshes", format.FileName, func(k *Kit) *string { return &k.Meshes },
		"folder beside this file with P.stl, P.3mf or P.obj for each piece P, or one 3MF or OBJ file with an object for each piece; all in assembled position"),
	format.Key("fixings", format.Map(format.ID, format.Object(func(f *Fixing) *Pos { return &f.Pos }, fixingFields), maxList,
		func(f *Fixing, r Ref) { f.ID = r.Name }), func(k *Kit) *[]*Fixing { return &k.Fixings },
		"what joins are made with, in addition to the built-in fixings"),
	format.Key("parts", format.Map(format.ID, format.OrEmpty(format.Object(func(p *Part) *Pos { return &p.Pos }, partFields, format.AtMostOne("printed", "bought", "made"))), maxList,
		func(p *Part, r Ref) { p.ID, p.Pos = r.Name, r.Pos }), func(k *Kit) *[]*Part { return &k.Parts },
		"the parts list"),
	format.Key("joins", format.Entries(format.Object(func(j *Join) *Pos { return &j.Pos }, joinFields, joinRules...), 0, maxList),
		func(k *Kit) *[]*Join { return &k.Joins }, "what fixes pieces together; each entry is a step"),
	format.Key("spaces", format.Map(format.ID, format.Object(func(s *Space) *Pos { return &s.Pos }, spaceFields), maxList,
		func(s *Space, r Ref) { s.ID, s.Pos = r.Name, r.Pos }), func(k *Kit) *[]*Space { return &k.Spaces },
		"hollows of the model that get closed"),
	format.Key("wires", format.Entries(format.Object(func(w *Wire) *Pos { return &w.Pos }, wireFields), 0, maxList),
		func(k *Kit) *[]*Wire { return &k.Wires }, "wires; each is a step"),
	format.Key("tasks", format.Entries(format.Object(func(t *Task) *Pos { return &t.Pos }, taskFields), 0, maxList),
		func(k *Kit) *[]*Task { return &k.Tasks }, "other steps: paint, test, let cure"),
	format.Key("painting", format.Optional(format.Object(nil, paintingFields)), func(k *Kit) **Painting { return &k.Painting },
		"how long it takes to paint pieces that are painted on their own"),
	format.Key("service", format.Entries(format.Object(func(s *Service) *Pos { return &s.Pos }, serviceFields), 0, maxList),
		func(k *Kit) *[]*Service { return &k.Service }, "what must stay accessible on the finished model"),
	format.Key("materials", format.Map(format.ID, format.Object(func(m *Material) *Pos { return &m.Pos }, materialFields, materialRules...), maxList,
		func(m *Material, r Ref) { m.ID, m.Pos = r.Name, r.Pos }), func(k *Kit) *[]*Material { return &k.Materials },
		"what parts are made of, in addition to the built-in resin, pla, petg and abs"),
	format.Key("printers", format.Map(format.ID, format.Object(func(p *Printer) *Pos { return &p.Pos }, printerFields), maxPrinters,
		func(p *Printer, r Ref) { p.ID, p.Pos = r.Name, r.Pos }), func(k *Kit) *[]*Printer { return &k.Printers },
		"your printers, for the printing plan"),
	format.Key("balance", format.Optional(format.Object(func(b *Balance) *Pos { return &b.Pos }, balanceFields, balanceRules...)), func(k *Kit) **Balance { return &k.Balance },
		"where the model must balance, and its ballast"),
	format.Key("lights", format.Optional(format.Object(func(l *Lights) *Pos { return &l.Pos }, lightsFields)), func(k *Kit) **Lights { return &k.Lights },
		"lamps, their power supply and their branches"),
	format.Key("magnets", format.Entries(format.Object(func(m *Magnets) *Pos { return &m.Pos }, magnetFields), 0, maxList), func(k *Kit) *[]*Magnets { return &k.Magnets },
		"which way magnets point, and which ones they pair with"),
}

var kitShape = format.Object(nil, kitFields)

// Schema returns the JSON Schema (draft 2020-12) of a kit file. It accepts and
// rejects what the reader does, except for checks that need the whole file:
// unresolved names, rings of joins, duplicate keys.
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
	format.Table(&b, "`painting`", paintingFields)
	format.Table(&b, "An entry of `service`", serviceFields)
	format.Table(&b, "An entry of `materials`", materialFields)
	format.Table(&b, "An entry of `printers`", printerFields)
	format.Table(&b, "`support`, in an entry of `printers`", supportFields)
	format.Table(&b, "`balance`", balanceFields)
	format.Table(&b, "`weighed`, in `balance`", weighedFields)
	format.Table(&b, "`lights`", lightsFields)
	format.Table(&b, "An entry of `branches`, in `lights`", branchFields)
	format.Table(&b, "An entry of `magnets`", magnetFields)
	return b.String()
}
