package threemf

import (
	"cmp"
	"errors"
	"fmt"
	"io"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/scan"
)

// Read reads a 3MF package. Each item of the build gives a mesh in its position,
// or one for each object of its assembly. Supports are not part of the model.
func Read(f *io.SectionReader) ([]*mesh.Mesh, error) {
	p, err := openPack(f, f.Size())
	if err != nil {
		return nil, err
	}
	name, err := p.root()
	if err != nil {
		return nil, err
	}
	b := &builder{pack: p, models: map[string]*modelPart{}}
	if b.root, err = b.part(name, true); err != nil {
		return nil, err
	}
	for i := range b.root.items {
		if err := b.item(&b.root.items[i]); err != nil {
			return nil, fmt.Errorf("%s: build item %d: %w", p.shown(name), i+1, err)
		}
	}
	list := make([]*mesh.Mesh, len(b.list))
	for i, s := range b.list {
		if list[i], err = mesh.Measure(s.name, &s.Indexed, "3mf", i); err != nil {
			return nil, fmt.Errorf("%s: %w", scan.Quote(s.name), err)
		}
		list[i].Unread = s.odd
	}
	return list, nil
}

// placed is an object where the build places it.
type placed struct {
	name, odd string
	mesh.Indexed
}

// builder places the objects of a package.
type builder struct {
	pack   *pack
	root   *modelPart
	models map[string]*modelPart
	list   []placed
	faces  int // of the whole list
}

// part reads a part once.
func (b *builder) part(name string, root bool) (*modelPart, error) {
	if m := b.models[name]; m != nil {
		return m, nil
	}
	if !root {
		if err := b.pack.wantModelType(name); err != nil {
			return nil, err
		}
	}
	m, err := readModel(b.pack, name, root)
	if err != nil {
		return nil, err
	}
	if !root && m.unit != b.root.unit {
		return nil, fmt.Errorf("%s has another unit than %s, so the size is unclear; export the file again", b.pack.shown(name), b.pack.shown(b.root.name))
	}
	b.models[name] = m
	return m, nil
}

// object finds what a component of a part places, and the part that it is in.
func (b *builder) object(in *modelPart, c *component) (*object, *modelPart, error) {
	if c.path != "" {
		var err error
		if in, err = b.part(c.path, false); err != nil {
			return nil, nil, err
		}
	}
	o := in.objects[c.object]
	if o == nil {
		return nil, nil, fmt.Errorf("places object %d of %s, which has no such object", c.object, b.pack.shown(in.name))
	}
	return o, in, nil
}

func (b *builder) item(c *component) error {
	o, in, err := b.object(b.root, c)
	if err != nil {
		return err
	}
	meshes, err := b.count(o, in)
	if err != nil {
		return err
	}
	if meshes == 0 {
		return nil // supports
	}
	if len(b.list)+meshes > scan.MaxMeshes {
		return fmt.Errorf("with it the build would place more than %d meshes, the limit", scan.MaxMeshes)
	}
	t := c.transform
	scale := geom.Scaling(b.root.unit)
	t = t.Then(&scale)
	return b.place(o, in, &t, c.partNumber, false)
}

// count is how many meshes an object places. Each object is counted once: nested
// assemblies can place astronomically many.
func (b *builder) count(o *object, in *modelPart) (int, error) {
	if o.leaves != 0 {
		return o.leaves - 1, nil
	}
	if !o.assembly {
		if o.kind == "other" {
			return 0, fmt.Errorf("places object %d, which is of the type other and may not be built", o.id)
		}
		o.leaves = 1
		if o.solid() {
			o.leaves = 2
		}
		return o.leaves - 1, nil
	}
	total := 0
	for i := range o.components {
		part, where, err := b.object(in, &o.components[i])
		if err != nil {
			return 0, err
		}
		n, err := b.count(part, where)
		if err != nil {
			return 0, err
		}
		total = min(total+n, scan.MaxMeshes+1)
	}
	o.leaves = total + 1
	return total, nil
}

// solid reports an object of the model: supports are printed, then thrown away.
func (o *object) solid() bool { return o.kind != "support" && o.kind != "solidsupport" }

// place adds the meshes of an object. An object without a name gets that of its
// assembly; so does an assembly's only object.
func (b *builder) place(o *object, in *modelPart, t *geom.Transform, above string, alone bool) error {
	if d := t.Determinant(); !geom.Finite(d) || d == 0 {
		return fmt.Errorf("the transforms of object %d together flatten it or are too large", o.id)
	}
	name := cmp.Or(o.name, o.partNumber, above)
	if alone && above != "" {
		name = above
	}
	if o.assembly {
		for i := range o.components {
			c := &o.components[i]
			part, where, err := b.object(in, c)
			if err != nil {
				return err
			}
			if n, err := b.count(part, where); err != nil || n == 0 {
				continue // nothing but supports; errors were found when the item was counted
			}
			u := c.transform.Then(t)
			if err := b.place(part, where, &u, name, len(o.components) == 1); err != nil {
				return err
			}
		}
		return nil
	}
	switch {
	case o.odd != "" && len(o.faces) == 0:
		return fmt.Errorf("object %d has %s, which is not supported, and no triangles; export it as a plain mesh", o.id, o.odd)
	case o.kind != "surface" && len(o.faces) < 4:
		return fmt.Errorf("object %d has %d triangles; a solid has 4 or more", o.id, len(o.faces))
	case len(o.faces) == 0:
		return errors.New("places a surface without triangles")
	}
	if b.faces += len(o.faces); b.faces > scan.MaxTriangles {
		return fmt.Errorf("with it the build would have more than %d triangles, the limit", scan.MaxTriangles)
	}
	b.list = append(b.list, placed{
		name:    cmp.Or(name, fmt.Sprintf("object-%d", o.id)),
		odd:     o.odd,
		Indexed: mesh.Indexed{Corners: o.corners, Faces: o.faces, Place: t},
	})
	return nil
}
