package kits

import (
	"slices"
	"strconv"
	"strings"
)

func (v *resolver) fixings() {
	k := v.kit
	k.fixingOf = map[string]*Fixing{}
	own := k.Fixings
	k.Fixings = nil
	for _, f := range builtIn() {
		i := slices.IndexFunc(own, func(o *Fixing) bool { return o.ID == f.ID })
		if i < 0 {
			k.Fixings = append(k.Fixings, f)
			continue
		}
		// What an entry of the same kind omits keeps its built-in value.
		if o := own[i]; o.Kind == f.Kind {
			o.Handle, o.Cure = f.Handle, f.Cure
		}
	}
	k.Fixings = append(k.Fixings, own...)
	for _, f := range own {
		f.Handle, f.Cure = given(f.handle, f.Handle), given(f.cure, f.Cure)
		f.Opens = given(f.opens, opensByKind(f.Kind))
	}
	for _, f := range k.Fixings {
		k.fixingOf[f.ID] = f
		v.known.fixings = append(v.known.fixings, f.ID)
	}
}

func (v *resolver) parts() {
	k := v.kit
	k.partOf = map[string]*Part{}
	numbered := map[string]*Part{}
	for _, p := range k.Parts {
		if p.number != nil {
			p.Number = p.number.Value
			if other := numbered[p.Number]; other != nil {
				v.fault(p.number.Pos, "number: %q is already the number of %s; give each part its own", p.Number, other.ID)
			}
			numbered[p.Number] = p
		}
		k.partOf[p.ID] = p
		v.known.parts = append(v.known.parts, p.ID)
		if p.Name == "" {
			p.Name = strings.ReplaceAll(p.ID, "-", " ")
		}
		if p.Quantity == 0 {
			p.Quantity = 1
		}
		if p.Class == "" {
			p.Class = "model"
		}
		if p.paint != nil {
			p.Paint, p.PaintPos = p.paint.Value, p.paint.Pos
		}
		p.Spares = given(p.spares, 0)
		if p.spares == nil && p.Fragile && p.ToPrint() && p.InModel() {
			p.Spares = k.FragileSpares
		}
		if !p.InModel() {
			continue
		}
		if len(k.Pieces)+p.Quantity > MaxPieces {
			v.fault(p.Pos, "parts: %s: the kit has more than %d pieces, the maximum", p.ID, MaxPieces)
			p.Quantity = 1
			continue
		}
		p.first = len(k.Pieces)
		for c := 1; c <= p.Quantity; c++ {
			k.Pieces = append(k.Pieces, Piece{p.CopyID(c), p, c})
		}
	}
	k.name()
	for _, p := range k.Parts {
		v.pair(p)
	}
}

// name records what names mean. Ids take precedence over numbers.
func (k *Kit) name() {
	k.named = map[string][]int{}
	for _, p := range k.Parts {
		if p.Number != "" && p.InModel() && k.partOf[p.Number] == nil {
			k.named[p.Number] = k.Copies(p)
		}
	}
	for i, p := range k.Pieces {
		k.named[p.ID] = []int{i}
	}
	for _, p := range k.Parts {
		if p.InModel() {
			k.named[p.ID] = k.Copies(p)
		}
	}
}

// CopyID is the id of a copy, counted from 1: that of the part, with the number
// if there are several.
func (p *Part) CopyID(n int) string {
	if p.Quantity == 1 {
		return p.ID
	}
	return p.ID + "." + strconv.Itoa(n)
}

func (v *resolver) pair(p *Part) {
	if p.pair == nil {
		return
	}
	other := v.kit.partOf[p.pair.Name]
	switch {
	case other == nil:
		v.fault(p.pair.Pos, "pair: no part is called %q%s; the mirrored part needs its own entry", p.pair.Name, v.Suggest(p.pair.Name, v.known.parts))
		return
	case other == p:
		v.fault(p.pair.Pos, "pair: %s cannot be its own mirror image", p.ID)
		return
	case other.pair != nil && other.pair.Name != p.ID:
		v.fault(p.pair.Pos, "pair: %s names %s as its pair, not %s", other.ID, other.pair.Name, p.ID)
		return
	case other.Quantity != p.Quantity:
		v.fault(p.pair.Pos, "pair: %s has quantity %d and its mirror image %s has %d", p.ID, p.Quantity, other.ID, other.Quantity)
		return
	}
	p.Pair = other
	if other.pair == nil {
		other.Pair = p
	}
}

// pieces resolves the name of a part or of one copy of it.
func (v *resolver) pieces(key string, r Ref) []int {
	name, copyNo, one := strings.Cut(r.Name, ".")
	p := v.kit.partOf[name]
	switch {
	case p == nil:
		v.fault(r.Pos, "%s: no part is called %q%s", key, name, v.Suggest(name, v.known.parts))
		return nil
	case !p.InModel():
		v.fault(r.Pos, "%s: %s is %s and is never part of the model; change its class or remove it here", key, name, p.Class)
		return nil
	}
	if !one {
		if !v.count(key, r, p.Quantity) {
			return nil
		}
		return v.kit.Copies(p)
	}
	c, err := strconv.Atoi(copyNo)
	if err != nil || c > p.Quantity {
		v.fault(r.Pos, "%s: %s has quantity %d, so there is no %s; correct the quantity or the number", key, name, p.Quantity, r.Name)
		return nil
	}
	return []int{p.first + c - 1}
}

// count adds up the pieces that all names so far stand for, and reports once if
// they are too many.
func (v *resolver) count(key string, r Ref, n int) bool {
	before := v.named
	v.named += n
	if before <= maxNamed && v.named > maxNamed {
		v.fault(r.Pos, "%s: with %s the names in the file stand for more than %d pieces, the maximum; each use of a part counts all its copies", key, r.Name, maxNamed)
	}
	return v.named <= maxNamed
}

func (v *resolver) allPieces(key string, refs []Ref) []int {
	var list []int
	for _, r := range refs {
		list = append(list, v.pieces(key, r)...)
	}
	return list
}

// onePiece resolves a name that must mean a single piece. Any other name is
// reported and gives -1, which only later checks can see.
func (v *resolver) onePiece(key string, r Ref) int {
	if r.Name == "" {
		return -1 // already reported
	}
	list := v.pieces(key, r)
	if len(list) > 1 {
		v.fault(r.Pos, "%s: %s has %d copies; name one, such as %s.1", key, r.Name, len(list), r.Name)
	}
	if len(list) == 0 {
		return -1
	}
	return list[0]
}
