package threemf

import (
	"errors"
	"fmt"
	"strings"

	"dryfit/kits/geom"
	"dryfit/kits/mesh/scan"
	"dryfit/kits/plain"
)

// component places an object: in an assembly, or as an item of the build.
type component struct {
	object     int
	path       string // of another part, or empty
	partNumber string
	transform  geom.Transform
}

// maxNesting is how deep assemblies may lie in each other. Nobody builds more than a few
// levels; a file with a million of them is meant to exhaust what reads it.
const maxNesting = 100

func (m *modelPart) readComponents(o *object) error {
	o.assembly = true
	return m.children("components", func(e element) error {
		if !e.is("component") {
			return errElsewhere
		}
		if err := e.only("objectid", "transform"); err != nil {
			return err
		}
		c, err := m.component(e)
		if err != nil {
			return fmt.Errorf("object %d: %w", o.id, err)
		}
		if inner := m.objects[c.object]; c.path == "" {
			o.depth = max(o.depth, inner.depth+1)
		}
		if o.depth > maxNesting {
			return fmt.Errorf("object %d: assemblies are nested more than %d deep, the limit", o.id, maxNesting)
		}
		o.components = append(o.components, c)
		return nil
	})
}

func (m *modelPart) build(e element) error {
	if err := e.only(); err != nil {
		return err
	}
	return m.children("build", func(e element) error {
		if !e.is("item") {
			return errElsewhere
		}
		// Attributes outside the core specification are ignored: they say how to
		// print the item, not what it is or where it goes.
		c, err := m.component(e)
		if err != nil {
			return fmt.Errorf("build item: %w", err)
		}
		c.partNumber = scan.CleanName(e.get("partnumber"))
		m.items = append(m.items, c)
		return m.children("item", func(e element) error {
			if e.is("metadatagroup") {
				return m.metadataGroup(e)
			}
			return errElsewhere
		})
	})
}

// component reads a component or a build item. An object must be defined before it is
// used, so that none can contain itself.
func (m *modelPart) component(e element) (c component, err error) {
	if c.object, err = resourceID(e.get("objectid")); err != nil {
		return c, err
	}
	if path, ok := e.look(productionSpace, "path"); ok {
		if !m.root {
			return c, errors.New("refers to another part by a path, which only the root model may do")
		}
		if c.path, err = partName(path); err != nil || !strings.HasPrefix(path, "/") {
			return c, fmt.Errorf("the path %s is not the name of a part, which begins with /", scan.Quote(path))
		}
	}
	if c.path == m.name {
		c.path = ""
	}
	if c.path == "" && m.objects[c.object] == nil {
		if kind := m.resources[c.object]; kind != "" && kind != "object" {
			return c, fmt.Errorf("places object %d, which is not an object but a <%s>", c.object, plain.Text(kind))
		}
		return c, fmt.Errorf("places object %d, but no such object is defined above it", c.object)
	}
	c.transform, err = parseTransform(e)
	return c, err
}

func parseTransform(e element) (t geom.Transform, err error) {
	text, ok := e.look("", "transform")
	if !ok {
		return geom.Scaling(1), nil
	}
	words := strings.Fields(text)
	if len(words) != 12 {
		return t, fmt.Errorf("a transform of %d numbers; it needs 12", len(words))
	}
	for i, w := range words {
		if t[i/3][i%3], err = scan.Number([]byte(w)); err != nil {
			return t, fmt.Errorf("transform: %w", err)
		}
	}
	if size := t[0].Length() * t[1].Length() * t[2].Length(); !geom.Finite(size) || !(max(t.Determinant(), -t.Determinant()) > 1e-9*size) {
		return t, fmt.Errorf("the transform %s flattens the object, so that nothing solid is left", scan.Quote(text))
	}
	return t, nil
}
