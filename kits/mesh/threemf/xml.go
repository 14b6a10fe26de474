package threemf

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"dryfit/kits/mesh/scan"
	"dryfit/kits/plain"
)

// Limits of XML.
const (
	maxToken      = 16 << 20 // bytes of a tag or a text
	maxAttributes = 200
	maxXMLDepth   = 100
)

// xmlFile reads the elements of an XML file as strictly as 3MF requires: in UTF-8, with
// namespaces, without document types, custom entities or duplicate attributes.
type xmlFile struct {
	in      xmlInput
	dec     *xml.Decoder
	open    []xml.Name // as written
	scopes  []scope
	peeked  bool // the decoder holds the < after a text
	started bool // the root has been seen
}

// scope is one declaration of a namespace.
type scope struct {
	depth         int
	prefix, space string
}

// element is a start tag, or with ended the end of one.
type element struct {
	space, name string
	attrs       []attribute
	ended       bool
	text        string // instead of a tag: text that is not blank
}

type attribute struct{ space, name, value string }

const (
	xmlSpace = "http://www.w3.org/XML/1998/namespace"
	xsiSpace = "http://www.w3.org/2001/XMLSchema-instance"
)

func newXML(r io.Reader) (*xmlFile, error) {
	x := &xmlFile{in: xmlInput{r: r, buf: make([]byte, 1<<17), line: 1}}
	head := x.in.ahead(4)
	if bytes.HasPrefix(head, []byte("\xFF\xFE")) || bytes.HasPrefix(head, []byte("\xFE\xFF")) {
		return nil, errors.New("is in UTF-16; 3MF files are in UTF-8")
	}
	if bytes.HasPrefix(head, []byte("\xEF\xBB\xBF")) {
		x.in.pos += 3
	}
	x.dec = xml.NewDecoder(&x.in)
	x.dec.CharsetReader = func(label string, _ io.Reader) (io.Reader, error) {
		x.in.err = fmt.Errorf("is encoded in %s; 3MF files are in UTF-8", scan.Quote(label))
		return nil, x.in.err
	}
	return x, nil
}

// next returns a start, an end or a text that is not blank, and io.EOF after the
// root has ended.
func (x *xmlFile) next() (element, error) {
	for {
		x.in.budget = maxToken
		t, err := x.dec.RawToken()
		if err != nil {
			return element{}, x.fault(err)
		}
		_, x.peeked = t.(xml.CharData)
		switch t := t.(type) {
		case xml.StartElement:
			return x.start(t)
		case xml.EndElement:
			return x.end(t)
		case xml.CharData:
			if text := bytes.TrimSpace(t); len(text) > 0 {
				if len(x.open) == 0 {
					return element{}, fmt.Errorf("has text outside its root element: %s", scan.Quote(text))
				}
				return element{text: string(text)}, nil
			}
		case xml.Directive:
			return element{}, errors.New("has a document type (<!...>), which 3MF forbids")
		}
	}
}

func (x *xmlFile) fault(err error) error {
	if x.in.err != nil && !errors.Is(x.in.err, io.EOF) {
		return x.in.err
	}
	var syntax *xml.SyntaxError
	switch {
	case errors.Is(err, io.EOF) && !x.started:
		return errors.New("has no root element")
	case errors.Is(err, io.EOF) && len(x.open) > 0, errors.As(err, &syntax) && strings.Contains(syntax.Msg, "unexpected EOF"):
		return errors.New("ends in the middle; it was probably truncated, so export it again")
	case errors.Is(err, io.EOF):
		return io.EOF
	case errors.As(err, &syntax):
		return fmt.Errorf("is not XML: %s", plain.Text(syntax.Msg))
	}
	return errors.New(strings.TrimPrefix(err.Error(), "xml: "))
}

func (x *xmlFile) start(t xml.StartElement) (e element, err error) {
	if len(x.open) == 0 && x.started {
		return e, fmt.Errorf("has a second root element, <%s>", written(t.Name))
	}
	if len(t.Attr) > maxAttributes || len(x.open) >= maxXMLDepth {
		return e, fmt.Errorf("<%s> has more than %d attributes, or is nested more than %d deep", written(t.Name), maxAttributes, maxXMLDepth)
	}
	x.started = true
	x.open = append(x.open, t.Name)
	for _, a := range t.Attr {
		switch {
		case a.Name.Space == "xmlns":
			x.scopes = append(x.scopes, scope{len(x.open), a.Name.Local, a.Value})
		case a.Name.Space == "" && a.Name.Local == "xmlns":
			x.scopes = append(x.scopes, scope{len(x.open), "", a.Value})
		}
	}
	seen := make(map[attribute]bool, len(t.Attr))
	for _, a := range t.Attr {
		own := attribute{name: a.Name.Local}
		if a.Name.Space != "" && a.Name.Space != "xmlns" {
			space, ok := x.space(a.Name.Space)
			if !ok {
				return e, fmt.Errorf("attribute %s of <%s> has a prefix that is not declared", written(a.Name), written(t.Name))
			}
			own.space = space
		} else if a.Name.Space == "xmlns" {
			own.space = "xmlns"
		}
		if seen[own] {
			return e, fmt.Errorf("<%s> has the attribute %s twice", written(t.Name), written(a.Name))
		}
		seen[own] = true
		if own.space == "xmlns" || own.space == "" && own.name == "xmlns" {
			continue
		}
		if own.space == xsiSpace || own.space == xmlSpace && own.name != "lang" {
			return e, fmt.Errorf("<%s> has the attribute %s, of a namespace (xml or xsi) that 3MF forbids", written(t.Name), written(a.Name))
		}
		own.value = a.Value
		e.attrs = append(e.attrs, own)
	}
	space, ok := x.space(t.Name.Space)
	if !ok {
		return e, fmt.Errorf("<%s> has a prefix that is not declared", written(t.Name))
	}
	e.space, e.name = space, t.Name.Local
	return e, nil
}

func (x *xmlFile) end(t xml.EndElement) (e element, err error) {
	n := len(x.open) - 1
	if n < 0 || x.open[n] != t.Name {
		return e, fmt.Errorf("</%s> has no start tag", written(t.Name))
	}
	x.open = x.open[:n]
	for k := len(x.scopes); k > 0 && x.scopes[k-1].depth > n; k-- {
		x.scopes = x.scopes[:k-1]
	}
	return element{ended: true}, nil
}

// space is the namespace of a prefix in this scope.
func (x *xmlFile) space(prefix string) (string, bool) {
	for k := len(x.scopes) - 1; k >= 0; k-- {
		if x.scopes[k].prefix == prefix {
			return x.scopes[k].space, true
		}
	}
	switch prefix {
	case "":
		return "", true
	case "xml":
		return xmlSpace, true
	}
	return "", false
}

// skip skips the rest of the last element read.
func (x *xmlFile) skip() error {
	for depth := len(x.open); len(x.open) >= depth; {
		if _, err := x.next(); err != nil {
			return err
		}
	}
	return nil
}

func written(n xml.Name) string {
	name := n.Local
	if n.Space != "" {
		name = n.Space + ":" + name
	}
	return strings.Trim(scan.Quote(name), `"`)
}

// xmlInput is the bytes of the file. The decoder reads them one by one; the fast path for
// corners and triangles looks ahead.
type xmlInput struct {
	r        io.Reader
	buf      []byte
	pos, end int
	err      error // of the last read
	line     int
	budget   int // bytes left for this token
}

func (in *xmlInput) ReadByte() (byte, error) {
	if in.pos == in.end && len(in.ahead(1)) == 0 {
		return 0, in.err
	}
	if in.budget--; in.budget < 0 {
		return 0, fmt.Errorf("has a tag or a text of more than %d MB", maxToken>>20)
	}
	c := in.buf[in.pos]
	in.pos++
	if c == '\n' {
		in.line++
	}
	return c, nil
}

// Read makes this a Reader, as the decoder requires; it calls ReadByte.
func (in *xmlInput) Read(b []byte) (int, error) {
	if len(b) == 0 {
		return 0, nil
	}
	c, err := in.ReadByte()
	if err != nil {
		return 0, err
	}
	b[0] = c
	return 1, nil
}

// ahead returns the next bytes, n or more unless the file ends first. One byte
// before them stays in the buffer.
func (in *xmlInput) ahead(n int) []byte {
	if in.end-in.pos < n && in.err == nil {
		keep := max(in.pos-1, 0)
		in.end = copy(in.buf, in.buf[keep:in.end])
		in.pos -= keep
		for in.end-in.pos < n && in.err == nil {
			var got int
			got, in.err = in.r.Read(in.buf[in.end:])
			in.end += got
		}
	}
	return in.buf[in.pos:in.end]
}

// take skips bytes returned by ahead.
func (in *xmlInput) take(n int) {
	in.line += bytes.Count(in.buf[in.pos:in.pos+n], []byte{'\n'})
	in.pos += n
}

// closedItself reports whether the last tag read ended in />.
func (in *xmlInput) closedItself() bool {
	return in.pos >= 2 && in.buf[in.pos-2] == '/'
}
