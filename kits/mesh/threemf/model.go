package threemf

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"dryfit/kits/mesh/scan"
	"dryfit/kits/plain"
)

const coreSpace = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"

// modelPart is what one 3D model part of a package says.
type modelPart struct {
	*xmlFile
	name      string // of the part
	root      bool
	unit      float64           // mm
	resources map[int]string    // what each id is
	objects   map[int]*object   // of those
	groups    map[int]*property // of those
	textures  map[int]bool      // of those
	items     []component
}

// object is a surface, or an assembly of others.
type object struct {
	id               int
	kind             string // model, support, ...
	name, partNumber string
	assembly         bool
	depth            int // levels of assemblies in it, within its part
	components       []component
	corners          [][3]float32
	faces            [][3]uint32
	odd              string // what besides its triangles defines its shape
	leaves           int    // meshes that it places plus one, 0 if not counted yet; see count
}

// units of 3MF in mm, in the order of the specification.
var units = []struct {
	name string
	mm   float64
}{{"micron", 0.001}, {"millimeter", 1}, {"centimeter", 10}, {"inch", 25.4}, {"foot", 304.8}, {"meter", 1000}}

// readModel reads a part against the core specification 1.4. What other namespaces
// add is ignored, unless the file says that it requires them.
func readModel(p *pack, name string, root bool) (*modelPart, error) {
	m := &modelPart{name: name, root: root, unit: 1,
		resources: map[int]string{}, objects: map[int]*object{}, groups: map[int]*property{}, textures: map[int]bool{}}
	err := p.read(name, func(x *xmlFile) error {
		m.xmlFile = x
		e, err := x.next()
		if errors.Is(err, io.EOF) || err == nil && !e.is("model") {
			return errors.New("does not begin with <model> of the 3MF core namespace")
		}
		if err == nil {
			err = m.model(e)
		}
		if err == nil {
			err = x.finish()
		}
		return err
	})
	m.xmlFile = nil
	return m, err
}

// is reports an element of the core specification.
func (e *element) is(name string) bool { return e.space == coreSpace && e.name == name }

// only rejects attributes of the core specification that are not among those
// known.
func (e *element) only(known ...string) error {
	for _, a := range e.attrs {
		if a.space == "" && !slices.Contains(known, a.name) {
			return fmt.Errorf("<%s> has the attribute %s, which is not allowed there", plain.Text(e.name), scan.Quote(a.name))
		}
	}
	return nil
}

// children calls do for the elements directly inside the last one read. Those of other
// namespaces are skipped if do returns errElsewhere.
func (m *modelPart) children(of string, do func(e element) error) error {
	for {
		e, err := m.next()
		switch {
		case err != nil:
			return err
		case e.ended:
			return nil
		case e.text != "":
			return fmt.Errorf("<%s> holds the text %s", of, scan.Quote(e.text))
		}
		depth := len(m.open)
		if err = do(e); errors.Is(err, errElsewhere) {
			if e.space == coreSpace || e.space == "" {
				return fmt.Errorf("<%s> is not allowed in <%s>", plain.Text(e.name), of)
			}
			err = nil
		}
		if err == nil && len(m.open) == depth { // do did not read on to its end
			err = m.skip()
		}
		if err != nil {
			return err
		}
	}
}

// errElsewhere says that an element is not one of those allowed here.
var errElsewhere = errors.New("of another namespace")

func (m *modelPart) model(e element) error {
	if err := e.only("unit", "requiredextensions", "recommendedextensions"); err != nil {
		return err
	}
	if u, ok := e.look("", "unit"); ok {
		i := slices.IndexFunc(units, func(k struct {
			name string
			mm   float64
		}) bool {
			return k.name == u
		})
		if i < 0 {
			return fmt.Errorf("unknown unit %s: use one of micron, millimeter, centimeter, inch, foot, meter", scan.Quote(u))
		}
		m.unit = units[i].mm
	}
	if err := m.extensions(e.get("requiredextensions")); err != nil {
		return err
	}
	had, named := map[string]bool{}, map[string]bool{}
	err := m.children("model", func(e element) error {
		if e.is("resources") || e.is("build") {
			if had[e.name] {
				return fmt.Errorf("<model> has a second <%s>", e.name)
			}
			had[e.name] = true
		}
		switch {
		case e.is("metadata"):
			return m.metadata(e, named)
		case e.is("resources"):
			return m.readResources(e)
		case e.is("build") && !had["resources"]:
			return errors.New("<build> comes before <resources>, or there is no <resources>")
		case e.is("build") && m.root:
			return m.build(e)
		case e.is("build"):
			return nil // only the root's build counts
		}
		return errElsewhere
	})
	switch {
	case err != nil:
		return err
	case !had["resources"]:
		return errors.New("<model> has no <resources>")
	case !had["build"]:
		return errors.New("<model> has no <build>")
	}
	return nil
}

// metadata checks the name of a metadata element against those beside it, and skips its
// text. Core specification 1.4, section 3.4.1: "Producers MUST NOT create multiple metadata
// elements with the same name", and the name of a vendor "MUST be prefixed with a valid XML
// namespace name declared on the <model> element". A name without a prefix that the
// specification does not define is for readers to pass over, although writers may not use
// it: "Consumers SHOULD ignore any metadata with a name they do not recognize, typically
// from a future version of this specification".
func (m *modelPart) metadata(e element, had map[string]bool) error {
	if err := e.only("name", "preserve", "type"); err != nil {
		return err
	}
	name := e.get("name")
	if name == "" {
		return errors.New("<metadata> has no name")
	}
	if had[name] {
		return fmt.Errorf("has two metadata of the name %s, which 3MF forbids", scan.Quote(name))
	}
	had[name] = true
	prefix, _, prefixed := strings.Cut(name, ":")
	if _, declared := m.space(prefix); prefixed && !declared {
		return fmt.Errorf("metadata %s has a prefix that is not declared", scan.Quote(name))
	}
	return nil
}

func (m *modelPart) readResources(e element) error {
	if err := e.only(); err != nil {
		return err
	}
	return m.children("resources", func(e element) error {
		switch {
		case e.is("object"):
			return m.object(e)
		case e.is("basematerials"):
			return m.property(e)
		case e.space == materialSpace:
			return m.material(e)
		}
		if id, ok := e.look("", "id"); ok && e.space != coreSpace {
			return m.claim(id, e.name)
		}
		return errElsewhere
	})
}

// maxResources bounds the objects, groups and textures of a part: ten for each mesh that a
// file may place.
const maxResources = 10 * scan.MaxMeshes

// claim registers the id of a resource.
func (m *modelPart) claim(text, kind string) error {
	id, err := resourceID(text)
	if err != nil {
		return fmt.Errorf("<%s>: %w", plain.Text(kind), err)
	}
	if was, ok := m.resources[id]; ok {
		return fmt.Errorf("<%s> has the id %d, which a <%s> has already", plain.Text(kind), id, plain.Text(was))
	}
	if len(m.resources) == maxResources {
		return fmt.Errorf("has more than %d resources, the limit", maxResources)
	}
	m.resources[id] = kind
	return nil
}

func resourceID(text string) (int, error) {
	id, ok := index(text)
	if !ok || id == 0 {
		return 0, fmt.Errorf("the id %s is not a whole number from 1 to 2147483647", scan.Quote(text))
	}
	return id, nil
}

// index reads a whole number from 0 to 2^31-1.
func index(text string) (int, bool) {
	text = strings.TrimSpace(text)
	if strings.HasPrefix(text, "-") || len(text) > 11 {
		return 0, false
	}
	v := 0
	text = strings.TrimPrefix(text, "+")
	for _, c := range []byte(text) {
		if !scan.IsDigit(c) {
			return 0, false
		}
		v = v*10 + int(c-'0')
	}
	return v, text != "" && v < 1<<31
}

func (m *modelPart) object(e element) error {
	if err := e.only("id", "type", "thumbnail", "partnumber", "name", "pid", "pindex"); err != nil {
		return err
	}
	if err := m.claim(e.get("id"), "object"); err != nil {
		return err
	}
	id, _ := resourceID(e.get("id"))
	o := &object{id: id, kind: "model", name: scan.CleanName(e.get("name")), partNumber: scan.CleanName(e.get("partnumber"))}
	if kind, ok := e.look("", "type"); ok {
		if o.kind = kind; !slices.Contains([]string{"model", "solidsupport", "support", "surface", "other"}, kind) {
			return fmt.Errorf("object %d is of the type %s, which 3MF does not define", id, scan.Quote(kind))
		}
	}
	own, err := m.ownProperty(e, fmt.Sprintf("object %d", id))
	if err != nil {
		return err
	}
	o.odd = m.coarse(e)
	shapes := 0
	err = m.children("object", func(e element) error {
		if e.is("mesh") || e.is("components") {
			if shapes++; shapes > 1 {
				return fmt.Errorf("object %d has a second <%s>", id, e.name)
			}
		}
		switch {
		case e.is("metadatagroup"):
			return m.metadataGroup(e)
		case e.is("mesh"):
			return m.mesh(o, own)
		case e.is("components"):
			return m.readComponents(o)
		}
		if e.space != coreSpace {
			o.odd = cmp.Or(o.odd, shaped(e))
		}
		return errElsewhere
	})
	if err == nil && shapes == 0 && o.odd == "" {
		err = fmt.Errorf("object %d has neither a <mesh> nor <components>", id)
	}
	m.objects[id] = o
	return err
}

func (m *modelPart) metadataGroup(e element) error {
	if err := e.only(); err != nil {
		return err
	}
	named := map[string]bool{}
	return m.children("metadatagroup", func(e element) error {
		if e.is("metadata") {
			return m.metadata(e, named)
		}
		return errElsewhere
	})
}
