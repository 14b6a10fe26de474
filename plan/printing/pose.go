package printing

import (
	"context"
	"math"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/plan/printing/supports"
)

// Sides that are tried. Filament lies on a flat face, or on one of the sides of the
// model, held up by supports; resin is turned all round, on supports, or lies on
// the bed if it is small or thin (common practice; the limits are ours).
const (
	clearAngle  = 75.0  // degrees from the bed; what of a clear part leans out at less is marked (ours)
	smallFoot   = 150.0 // mm2, of a small part's foot
	smallHeight = 30.0  // mm, of a small part
	thinHeight  = 8.0   // mm, of a part that may lie flat on the bed
	slender     = 5.0   // times as tall as its foot is wide, and it may fall
	filmAngle   = 25.0  // degrees; what is nearer to parallel with the film counts as along it
	gridStep    = 15    // degrees between the turns that are tried
	sideShare   = 0.2   // of the hull's area, from which a flat side is mentioned
)

// pose is a side to lie on.
type pose struct {
	down  geom.Vec
	onBed bool         // not raised on supports
	foot  float64      // mm2 of its hull's face that lie on the bed; 0 if none
	width float64      // of that face where it is narrow, mm
	w, d  float64      // roughly the smallest box on the bed, mm
	high  float64      // how high the part stands, mm
	leans leans        // what of it leans out, as far as it was asked
	ring  [][2]float64 // the shadow in this pose, computed on demand
	held  map[ways]*held
}

// leans is what of a part leans out at an angle, which is given by its cosine.
type leans struct {
	cosine float64
	steep
}

// leaning is what leans out in a pose at an angle.
func (f *facts) leaning(o *pose, cosine float64) steep {
	if o.leans.cosine != cosine {
		o.leans = leans{cosine, f.facing.at(o.down, cosine)}
	}
	return o.leans.steep
}

// ways are the properties of a printer that what is measured depends on.
type ways struct {
	rules supports.Rules
	layer float64
}

// held is what was measured of a part in a pose.
type held struct {
	Need            supports.Need
	Pockets         supports.Pockets
	Largest, Growth Layer
	Thin            float64 // mm of height that is thin
}

// poses lists the sides that a part can lie on when printed by a process; only the
// one that the kit states, if it states one.
func (f *facts) poses(process string) []*pose {
	if list, known := f.sides[process]; known {
		return list
	}
	var list []*pose
	switch up := f.Of.Orient; {
	case up != nil:
		list = f.stated(process, up.Unit().Opposite())
	case process == kits.Filament:
		list = f.filamentPoses()
	default:
		list = f.resinPoses()
	}
	for _, o := range list {
		o.w, o.d = f.roughBox(o.down)
		o.high = f.height(o.down)
		o.held = map[ways]*held{}
	}
	f.sides[process] = list
	return list
}

// stated is the side that the kit states.
func (f *facts) stated(process string, down geom.Vec) []*pose {
	o := &pose{down: down, onBed: process == kits.Filament}
	for _, b := range f.feet(process) {
		if b.down.Dot(down) > cosine(0.1) {
			*o = *b
		}
	}
	return []*pose{o}
}

// filamentPoses are the flat faces that a part stands on, the sides opposite them,
// and the six sides of the model.
func (f *facts) filamentPoses() []*pose {
	list := f.feet(kits.Filament)
	add := func(down geom.Vec) {
		for _, o := range list {
			if o.down.Dot(down) > cosine(1) {
				return
			}
		}
		list = append(list, &pose{down: down, onBed: true})
	}
	for _, o := range list[:len(list):len(list)] {
		add(o.down.Opposite())
	}
	for _, a := range axes {
		add(a)
	}
	return list
}

func (f *facts) resinPoses() []*pose { return append(f.feet(kits.Resin), f.tilted()...) }

// feet are the flat faces that a part can stand on. Of resin it must be small or
// thin, with little that overhangs, and not clear: the first layers are exposed for
// longer and spread, and supports beside it leave it no room.
func (f *facts) feet(process string) []*pose {
	var list []*pose
	for i, b := range f.bases {
		height := f.height(b.Normal)
		small := f.contact[i] <= smallFoot && height <= smallHeight || height <= thinHeight
		if f.contact[i] == 0 || process == kits.Resin && (f.Clear() || !small || f.overhangs(b.Normal) > 1.25*f.contact[i]) {
			continue
		}
		list = append(list, &pose{down: b.Normal, onBed: true, foot: f.contact[i], width: f.width[i]})
	}
	return list
}

// overhangs is the area of shadow, mm2, of what leans out at 45 degrees or less with
// a side down, the foot included.
func (f *facts) overhangs(down geom.Vec) float64 { return f.facing.at(down, math.Sqrt2/2).shadow }

// tilted are turns all round, in steps about the model's x and y axes, the smaller
// first; among equals, a part and its mirror image take mirrored ones.
func (f *facts) tilted() []*pose {
	var list []*pose
	add := func(x, y float64) {
		t := turnOf(x, y, 0)
		list = append(list, &pose{down: t[2].Times(-1)})
	}
	sides, last := [][2]int{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}}, 180
	if f.quick {
		sides, last = sides[:1], 90 // the others are mirror images
	}
	for x := 0; x <= last; x += gridStep {
		for y := 0; y < 90; y += gridStep {
			for _, side := range sides {
				if (side[0] > 0 || x > 0 && x < 180) && (side[1] > 0 || y > 0) {
					add(float64(side[0]*x), float64(side[1]*y))
				}
			}
		}
	}
	add(0, -90)
	add(0, 90)
	return list
}

// roughBox is roughly the smallest box around a part on the bed: along its
// shadow's main axis, or straight if that is smaller.
func (f *facts) roughBox(down geom.Vec) (w, d float64) {
	t := standing(down)
	flat := make([][2]float64, len(f.rough))
	var x, y, xx, xy, yy float64
	for i, p := range f.rough {
		flat[i] = [2]float64{t[0].Dot(p), t[1].Dot(p)}
		x, y = x+flat[i][0], y+flat[i][1]
	}
	n := float64(len(flat))
	for _, p := range flat {
		a, b := p[0]-x/n, p[1]-y/n
		xx, xy, yy = xx+a*a, xy+a*b, yy+b*b
	}
	w, d = boxAt(flat, 0)
	if v, e := boxAt(flat, math.Atan2(2*xy, xx-yy)/2); v*e < w*d {
		return v, e
	}
	return w, d
}

// rules are those of a printer for a part in a pose. A face that leans out at just
// the angle needs support of resin, which sags; filament still bonds there.
func (f *facts) rules(o *pose, p *kits.Printer) supports.Rules {
	r := supports.Rules{Angle: p.Support.Angle, Exact: p.Process == kits.Resin, Bridge: p.Support.Bridge, Layer: p.Layer}
	if !o.onBed {
		r.Raise = p.Support.Raise
	}
	if f.Clear() {
		r.Angle = max(r.Angle, clearAngle)
	}
	return r
}

// profileLayers is how many layers are looked at to compare poses.
const profileLayers = 100

// measure measures what holds a part in a pose on a printer, unless that is known.
func (f *facts) measure(ctx context.Context, o *pose, p *kits.Printer) (*held, error) {
	way := ways{f.rules(o, p), p.Layer}
	if h := o.held[way]; h != nil {
		return h, nil
	}
	key := f.key(o.down, way)
	h := f.known.held(key)
	if h == nil {
		h = &held{}
		if err := f.hold(ctx, h, o, way, p.Process == kits.Resin && f.hollow()); err != nil {
			return nil, err
		}
		f.known.hold(key, h)
	}
	o.held[way] = h
	return h, nil
}

// hold does the measuring.
func (f *facts) hold(ctx context.Context, h *held, o *pose, way ways, pockets bool) (err error) {
	t := standing(o.down)
	box := t.extents(f.hull.Points)
	if h.Need, err = f.solid.Measure(ctx, t, box, way.rules); err != nil {
		return err
	}
	layers, err := Layers(ctx, f.Surface, f.hull, t, max(way.layer, box.Size()[2]/profileLayers))
	if err != nil {
		return err
	}
	h.Largest, h.Growth, h.Thin = layers.Largest(), layers.Growth(o.onBed), layers.thin()
	if pockets {
		h.Pockets, err = f.solid.Pockets(ctx, t, box, 2*f.Shape.Volume/f.Shape.Area)
	}
	return err
}

// hollowShare is how much less than its hull a part must fill to have pockets worth
// looking for.
const hollowShare = 0.9

func (f *facts) hollow() bool { return f.Shape.Volume < hollowShare*f.hull.volume() }
