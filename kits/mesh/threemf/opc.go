package threemf

import (
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"dryfit/kits/mesh/scan"
	"dryfit/kits/plain"
)

// The names by which the Open Packaging Conventions and the 3MF core specification
// find the model of a package.
const (
	typesSpace     = "http://schemas.openxmlformats.org/package/2006/content-types"
	relationsSpace = "http://schemas.openxmlformats.org/package/2006/relationships"
	modelRelation  = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
	ticketRelation = "http://schemas.microsoft.com/3dmanufacturing/2013/01/printticket"
	thumbRelation  = "http://schemas.openxmlformats.org/package/2006/relationships/metadata/thumbnail"
	modelType      = "application/vnd.ms-package.3dmanufacturing-3dmodel+xml"
)

// root is the name of the part with the model.
func (p *pack) root() (string, error) {
	list, err := p.relations("")
	if err != nil {
		return "", err
	}
	var models []string
	for _, r := range list {
		if r.kind == modelRelation {
			models = append(models, r.target)
		}
	}
	switch {
	case len(models) == 0:
		return "", errors.New("_rels/.rels names no 3D model; export it again")
	case len(models) > 1:
		return "", fmt.Errorf("_rels/.rels names %d 3D models (%s and %s); a package has one", len(models), p.shown(models[0]), p.shown(models[1]))
	case p.parts[models[0]] == nil:
		return "", fmt.Errorf("the 3D model %s, which _rels/.rels names, is not in the package", p.shown(models[0]))
	}
	if err := p.wantModelType(models[0]); err != nil {
		return "", err
	}
	_, err = p.relations(models[0])
	return models[0], err
}

type relation struct{ kind, target string }

// relations reads the relationships of a part, or of the package if the name is
// empty. A part may have none.
func (p *pack) relations(of string) ([]relation, error) {
	file := path.Dir(of) + "/_rels/" + path.Base(of) + ".rels"
	if of == "" {
		file = "_rels/.rels"
	}
	file = strings.TrimPrefix(file, "./")
	if p.parts[file] == nil {
		if of == "" {
			return nil, errors.New("is not a 3MF file: the package has no _rels/.rels, which names the model")
		}
		return nil, nil
	}
	r := relationsReader{pack: p, of: of, ids: map[string]bool{}, seen: map[relation]bool{}}
	err := p.each(file, relationsSpace, "Relationships", r.add)
	return r.list, err
}

// relationsReader reads the relationships of one part.
type relationsReader struct {
	*pack
	of      string // the part
	list    []relation
	ids     map[string]bool
	seen    map[relation]bool
	tickets int
}

// add checks a relationship by the core specification 1.4, section 2.1.1: "3MF Documents
// MUST NOT reference resources external to the 3MF Document package", "There MUST NOT be
// more than one relationship of a given relationship type from one part to a second part",
// and "Producers that generate a relationship MUST include the target part in the 3MF
// Document for any of the following relationship types: PrintTicket, StartPart, and
// Thumbnail". By section 2.1.4 a model has at most one print ticket.
func (rr *relationsReader) add(e element) error {
	if e.name != "Relationship" || e.space != relationsSpace {
		return fmt.Errorf("<%s> where Relationship is expected", plain.Text(e.name))
	}
	to := e.get("Target")
	if strings.EqualFold(e.get("TargetMode"), "External") || hasScheme(to) {
		return fmt.Errorf("refers to %s outside the package, which 3MF forbids", scan.Quote(to))
	}
	name, err := target(rr.of, to)
	if err != nil {
		return fmt.Errorf("refers to %s: %w", scan.Quote(to), err)
	}
	r := relation{e.get("Type"), name}
	if r.kind == ticketRelation {
		if rr.tickets++; rr.tickets > 1 {
			return errors.New("gives the model a second print ticket; it may have one")
		}
	}
	if (r.kind == ticketRelation || r.kind == thumbRelation) && rr.parts[name] == nil {
		return fmt.Errorf("refers to %s, which is not in the package; 3MF asks for all print tickets and thumbnails that are named", scan.Quote(to))
	}
	if rr.ids[e.get("Id")] {
		return fmt.Errorf("has two relationships with the id %s", scan.Quote(e.get("Id")))
	}
	if rr.seen[r] {
		return fmt.Errorf("has two relationships of one type to %s", scan.Quote(to))
	}
	rr.ids[e.get("Id")], rr.seen[r] = true, true
	rr.list = append(rr.list, r)
	return nil
}

// hasScheme reports whether a reference begins with a scheme, such as http: or C:, and so
// leads out of the package (RFC 3986, section 3.1).
func hasScheme(reference string) bool {
	scheme, _, found := strings.Cut(reference, ":")
	if !found || scheme == "" {
		return false
	}
	for i, c := range strings.ToLower(scheme) {
		letter := c >= 'a' && c <= 'z'
		if !letter && (i == 0 || !strings.ContainsRune("0123456789+-.", c)) {
			return false
		}
	}
	return true
}

// wantModelType checks the content type that the package states for a part.
func (p *pack) wantModelType(name string) error {
	if p.byEnding == nil {
		if err := p.readTypes(); err != nil {
			return err
		}
	}
	kind, ok := p.byName[name]
	if !ok {
		kind = p.byEnding[strings.TrimPrefix(path.Ext(name), ".")]
	}
	if !strings.EqualFold(kind, modelType) {
		return fmt.Errorf("[Content_Types].xml does not say that %s is a 3D model (it says %s)", p.shown(name), scan.Quote(kind))
	}
	return nil
}

// readTypes reads the content types of parts.
func (p *pack) readTypes() error {
	const file = "[content_types].xml"
	if p.parts[file] == nil {
		return errors.New("is not a 3MF file: the package has no [Content_Types].xml")
	}
	p.byEnding, p.byName = map[string]string{}, map[string]string{}
	return p.each(file, typesSpace, "Types", func(e element) error {
		in, key := p.byEnding, strings.ToLower(e.get("Extension"))
		switch {
		case e.space == typesSpace && e.name == "Default":
		case e.space == typesSpace && e.name == "Override":
			var err error
			if in = p.byName; e.get("PartName") == "" {
				return errors.New("overrides the type of a part without a name")
			}
			if key, err = partName(e.get("PartName")); err != nil {
				return fmt.Errorf("overrides the type of %s: %w", scan.Quote(e.get("PartName")), err)
			}
		default:
			return fmt.Errorf("<%s> where Default or Override is expected", plain.Text(e.name))
		}
		if _, ok := in[key]; ok {
			return fmt.Errorf("states the type of %s twice", scan.Quote(key))
		}
		in[key] = e.get("ContentType")
		return nil
	})
}

// get is the value of an attribute without a prefix.
func (e *element) get(name string) string {
	v, _ := e.look("", name)
	return v
}

func (e *element) look(space, name string) (string, bool) {
	for _, a := range e.attrs {
		if a.space == space && a.name == name {
			return a.value, true
		}
	}
	return "", false
}

// each calls do for all elements directly in the root of a small XML part.
func (p *pack) each(part, space, root string, do func(element) error) error {
	return p.read(part, func(x *xmlFile) error {
		e, err := x.next()
		if errors.Is(err, io.EOF) || err == nil && (e.space != space || e.name != root) {
			return fmt.Errorf("does not begin with <%s>", root)
		}
		if err != nil {
			return err
		}
		for {
			switch e, err := x.next(); {
			case err != nil:
				return err
			case e.ended:
				return x.finish()
			case e.text != "":
				return fmt.Errorf("has the text %s between its elements", scan.Quote(e.text))
			default:
				if err := do(e); err != nil {
					return err
				}
				if err := x.skip(); err != nil {
					return err
				}
			}
		}
	})
}

// finish reads to the end of the file, where its checksum is checked.
func (x *xmlFile) finish() error {
	e, err := x.next()
	if errors.Is(err, io.EOF) {
		return nil
	}
	if err == nil {
		err = fmt.Errorf("goes on after its root element, with <%s>", plain.Text(e.name))
	}
	return err
}

// read opens a part as XML and says its name and line in errors.
func (p *pack) read(part string, do func(*xmlFile) error) error {
	f, err := p.open(part)
	if err != nil {
		return err
	}
	defer f.Close()
	x, err := newXML(f)
	if err == nil {
		err = do(x)
	}
	if err != nil && x != nil {
		return fmt.Errorf("%s: line %d: %w", p.shown(part), x.in.line, err)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", p.shown(part), err)
	}
	return nil
}
