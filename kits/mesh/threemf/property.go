package threemf

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"dryfit/kits/mesh/scan"
)

// Properties are colours and materials. They do not change the shape, but a file
// that gets them wrong is invalid. The rules are those of the core specification,
// chapters 4 and 5, and of the materials extension 1.2, chapters 2 to 6.

// property is a list of properties that triangles refer to by number.
type property struct {
	id    int
	kind  string // the element's name
	count int
	index int // the property that an object uses
}

// listed are the elements that list properties, and what they list.
var listed = map[string]struct {
	entry string
	needs []string // attributes of an entry
	known []string // further attributes of the list
}{
	"basematerials":      {"base", []string{"name", "displaycolor"}, []string{"displaypropertiesid"}},
	"colorgroup":         {"color", []string{"color"}, []string{"displaypropertiesid"}},
	"texture2dgroup":     {"tex2coord", []string{"u", "v"}, []string{"texid", "displaypropertiesid"}},
	"compositematerials": {"composite", []string{"values"}, []string{"matid", "matindices", "displaypropertiesid"}},
	"multiproperties":    {"multi", []string{"pindices"}, []string{"pids", "blendmethods"}},
}

// material reads an element of the materials extension.
func (m *modelPart) material(e element) error {
	if e.name == "texture2d" {
		return m.texture(e)
	}
	if _, ok := listed[e.name]; ok && e.name != "basematerials" {
		return m.property(e)
	}
	if id, ok := e.look("", "id"); ok { // how materials look on a screen
		return m.claim(id, e.name)
	}
	return errElsewhere
}

func (m *modelPart) texture(e element) error {
	if err := e.only("id", "path", "contenttype", "tilestyleu", "tilestylev", "filter", "box"); err != nil {
		return err
	}
	if err := m.claim(e.get("id"), e.name); err != nil {
		return err
	}
	id, _ := resourceID(e.get("id"))
	if kind := e.get("contenttype"); kind != "image/png" && kind != "image/jpeg" {
		return fmt.Errorf("texture2d %d has the content type %s; it must be image/png or image/jpeg", id, scan.Quote(kind))
	}
	if e.get("path") == "" {
		return fmt.Errorf("texture2d %d has no path", id)
	}
	m.textures[id] = true
	return nil
}

func (m *modelPart) property(e element) error {
	rule := listed[e.name]
	if err := e.only(append([]string{"id"}, rule.known...)...); err != nil {
		return err
	}
	if err := m.claim(e.get("id"), e.name); err != nil {
		return err
	}
	id, _ := resourceID(e.get("id"))
	g := &property{id: id, kind: e.name}
	if err := m.references(e); err != nil {
		return fmt.Errorf("%s %d %w", e.name, id, err)
	}
	space := e.space
	err := m.children(e.name, func(entry element) error {
		if entry.space != space || entry.name != rule.entry {
			return errElsewhere
		}
		for _, need := range rule.needs {
			v, ok := entry.look("", need)
			if !ok {
				return fmt.Errorf("%s %d: its <%s> number %d has no %s", g.kind, id, rule.entry, g.count, need)
			}
			if err := checkValue(need, v); err != nil {
				return fmt.Errorf("%s %d: its <%s> number %d %w", g.kind, id, rule.entry, g.count, err)
			}
		}
		g.count++
		return nil
	})
	if err == nil && g.count == 0 {
		err = fmt.Errorf("%s %d holds no <%s>", g.kind, id, rule.entry)
	}
	m.groups[id] = g
	return err
}

// checkValue checks an attribute of a property.
func checkValue(name, v string) error {
	switch name {
	case "displaycolor", "color":
		if !isColour(v) {
			return fmt.Errorf("has the colour %s; it should be like #FF8800 or #FF8800FF", scan.Quote(v))
		}
	case "u", "v":
		if _, err := scan.Number(trim([]byte(v))); err != nil {
			return err
		}
	case "values":
		for w := range strings.FieldsSeq(v) {
			if _, err := scan.Number([]byte(w)); err != nil {
				return err
			}
		}
	case "pindices": // the number of choices depends on what is mixed
		for w := range strings.FieldsSeq(v) {
			if _, ok := index(w); !ok {
				return fmt.Errorf("takes number %s of a layer; it should be a whole number from 0", scan.Quote(w))
			}
		}
	}
	return nil
}

func isColour(v string) bool {
	if len(v) != 7 && len(v) != 9 || v[0] != '#' {
		return false
	}
	return strings.Trim(v[1:], "0123456789abcdefABCDEF") == ""
}

// references checks what a list of properties is made from.
func (m *modelPart) references(e element) error {
	switch e.name {
	case "texture2dgroup":
		if id, err := resourceID(e.get("texid")); err != nil || !m.textures[id] {
			return fmt.Errorf("has the texid %s, but no such texture2d is defined above it", scan.Quote(e.get("texid")))
		}
	case "compositematerials":
		return m.composite(e)
	case "multiproperties":
		return m.layers(e.get("pids"))
	}
	return nil
}

func (m *modelPart) composite(e element) error {
	id, err := resourceID(e.get("matid"))
	base := m.groups[id]
	if err != nil || base == nil || base.kind != "basematerials" {
		return fmt.Errorf("has the matid %s, but no such basematerials are defined above it", scan.Quote(e.get("matid")))
	}
	indices := strings.Fields(e.get("matindices"))
	if len(indices) == 0 {
		return errors.New("has no matindices")
	}
	for _, w := range indices {
		if i, ok := index(w); !ok || i >= base.count {
			return fmt.Errorf("mixes material %s of basematerials %d, which has %d, counted from 0", scan.Quote(w), id, base.count)
		}
	}
	return nil
}

func (m *modelPart) layers(pids string) error {
	times := map[string]int{}
	for n, w := range strings.Fields(pids) {
		id, err := resourceID(w)
		kind := m.resources[id]
		if err != nil || kind == "" {
			return fmt.Errorf("names %s among its pids, but no such properties are defined above it", scan.Quote(w))
		}
		if kind == "basematerials" || kind == "compositematerials" {
			if kind = "materials (base or composite)"; n > 0 && times[kind] == 0 {
				return fmt.Errorf("has the materials %d not as its first layer", id)
			}
		}
		times[kind]++
		switch {
		case kind == "multiproperties":
			return fmt.Errorf("names other multiproperties, %d, among its pids", id)
		case times[kind] > 1 && !strings.HasPrefix(kind, "texture2d"):
			return fmt.Errorf("names %s more than once among its pids", kind)
		}
	}
	if len(times) == 0 {
		return errors.New("has no pids")
	}
	return nil
}

// ownProperty is the property of an object for all its triangles, or nil.
func (m *modelPart) ownProperty(e element, who string) (*property, error) {
	pid, given := e.look("", "pid")
	pindex, numbered := e.look("", "pindex")
	if !given {
		if numbered {
			return nil, fmt.Errorf("%s has a pindex but no pid", who)
		}
		return nil, nil
	}
	id, err := resourceID(pid)
	g := m.groups[id]
	if err != nil || g == nil && !m.elseProperty(id) {
		return nil, fmt.Errorf("%s has the pid %s, but no such properties are defined above it", who, scan.Quote(pid))
	}
	if g == nil {
		g = &property{id: id, count: 1 << 31} // of an unsupported extension
	}
	own := *g
	if numbered {
		i, ok := index(pindex)
		if !ok || i >= own.count {
			return nil, fmt.Errorf("%s has the pindex %s, but group %d has %d, counted from 0", who, scan.Quote(pindex), id, own.count)
		}
		own.index = i
	}
	return &own, nil
}

// elseProperty reports a resource of an unsupported extension: the number of its
// properties is not known.
func (m *modelPart) elseProperty(id int) bool {
	kind, ok := m.resources[id]
	return ok && kind != "object" && !strings.HasPrefix(kind, "texture2d")
}

// checkProperty checks the properties that a triangle names.
func (m *modelPart) checkProperty(r *row, own *property) error {
	g := own
	if r.pid >= 0 {
		if g = m.groups[r.pid]; g == nil {
			if r.pid > 0 && m.elseProperty(r.pid) {
				return nil
			}
			return fmt.Errorf("has the pid %d, but no such properties are defined above it", r.pid)
		}
	}
	if g == nil {
		return errors.New("names a property, but neither it nor its object has a pid")
	}
	for k, p := range r.p {
		if p >= g.count {
			return fmt.Errorf("has the property p%d=%d, but group %d has %d, counted from 0", k+1, p, g.id, g.count)
		}
	}
	if g.kind == "basematerials" && slices.ContainsFunc(r.p[1:], func(p int) bool { return p >= 0 && p != r.p[0] }) {
		return fmt.Errorf("runs from one base material to another (p1=%d, p2=%d, p3=%d), which 3MF forbids", r.p[0], r.p[1], r.p[2])
	}
	return nil
}
