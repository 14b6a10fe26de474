// Package documenttest checks documents that have been set: HTML by its own rules,
// PDF with the checkers of the machine.
package documenttest

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
)

// A page may hold these elements and attributes and no others.
var (
	elements = wordSet(`html head meta title style body a header h1 h2 h3 p nav ol ul li main section div article
		dl dt dd table caption colgroup col thead tbody tr th td label input figure figcaption fieldset legend
		span b bdi footer svg g path image text`)
	attributes = wordSet(`lang http-equiv content charset name class href id dir aria-labelledby aria-label aria-hidden
		tabindex role style scope type width height viewBox fill fill-rule stroke stroke-width stroke-linecap
		stroke-linejoin stroke-dasharray font-family font-size font-weight text-anchor preserveAspectRatio d x y`)
	empty    = wordSet("meta input col")
	phrasing = wordSet("a b bdi label input span svg g path image text title")
	// Of the living standard of HTML, in own words: these hold phrasing content only.
	holdsPhrasing = wordSet("p h1 h2 h3 a b bdi label span")
	styleAttr     = regexp.MustCompile(`^(min-)?width:([0-9.]+(mm|em|%)|auto)$`)
)

func wordSet(s string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(s) {
		m[w] = true
	}
	return m
}

// pageCheck reads a page strictly: as XML, but for the elements that have no end.
type pageCheck struct {
	open     []string
	ids      map[string]bool
	links    []string
	texts    []string // of elements and of attributes
	heading  int      // level of the last
	svgTitle bool     // the svg before must begin with a title
	faults   []string
}

func (c *pageCheck) fault(format string, args ...any) {
	c.faults = append(c.faults, fmt.Sprintf(format, args...))
}

// CheckPage lists the texts of a page and what is wrong with it.
func CheckPage(data []byte) (texts, faults []string) {
	c := &pageCheck{ids: map[string]bool{}}
	if !bytes.HasPrefix(data, []byte("<!DOCTYPE html>\n")) {
		c.fault("no doctype at the start")
	}
	for _, r := range string(data) {
		if r < ' ' && r != '\n' && r != '\t' || r >= 0x7f && r < 0xa0 || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 {
			c.fault("character %U", r)
		}
	}
	dec := xml.NewDecoder(bytes.NewReader(data))
	for {
		tok, err := dec.RawToken()
		if err == io.EOF {
			break
		}
		if err != nil {
			c.fault("%v", err)
			break
		}
		c.token(tok)
	}
	for _, id := range c.links {
		if !c.ids[id] {
			c.fault("a link to %s leads nowhere", id)
		}
	}
	if len(c.open) > 0 {
		c.fault("not closed: %v", c.open)
	}
	return c.texts, c.faults
}

func (c *pageCheck) token(tok xml.Token) {
	if text, ok := tok.(xml.CharData); ok {
		c.texts = append(c.texts, string(text))
		if c.svgTitle && strings.TrimSpace(string(text)) != "" {
			c.fault("text in an svg without a title")
		}
		return
	}
	switch tok := tok.(type) {
	case xml.StartElement:
		c.start(tok)
	case xml.EndElement:
		if n := len(c.open); n == 0 || c.open[n-1] != tok.Name.Local {
			c.fault("</%s> in %v", tok.Name.Local, c.open)
		} else {
			c.open = c.open[:n-1]
		}
	}
}

func (c *pageCheck) start(e xml.StartElement) {
	name := e.Name.Local
	if !elements[name] {
		c.fault("element %s", name)
	}
	for _, o := range c.open {
		if holdsPhrasing[o] && !phrasing[name] || o == "a" && name == "a" {
			c.fault("<%s> in %v", name, c.open)
		}
	}
	attr := c.attributes(e)
	if c.svgTitle && name != "title" {
		c.fault("an svg without a title")
	}
	c.svgTitle = name == "svg" && attr["aria-hidden"] != "true"
	switch {
	case len(name) == 2 && name[0] == 'h' && name[1] <= '3' && name != "hr":
		level := int(name[1] - '0')
		if level > c.heading+1 || level == 1 && c.heading > 0 {
			c.fault("heading %d after %d", level, c.heading)
		}
		c.heading = level
	case name == "meta" && c.heading == 0 && len(c.ids) == 0 && attr["http-equiv"] != "":
		if !slices.Equal(c.open, []string{"html", "head"}) || !strings.HasPrefix(attr["content"], "default-src 'none';") {
			c.fault("policy %q in %v", attr["content"], c.open)
		}
	case name == "input" && strings.TrimSpace(attr["aria-label"]) == "" && !slices.Contains(c.open, "label"):
		c.fault("an input without a label")
	case name == "svg" && c.svgTitle && attr["role"] != "img":
		c.fault("an svg that is no image")
	case name == "th" && attr["scope"] == "":
		c.fault("a head of nothing")
	}
	if !empty[name] {
		c.open = append(c.open, name)
	}
}

func (c *pageCheck) attributes(e xml.StartElement) map[string]string {
	attr := map[string]string{}
	for _, a := range e.Attr {
		name := a.Name.Local
		if _, twice := attr[name]; twice || !attributes[name] {
			c.fault("attribute %s of %s", name, e.Name.Local)
		}
		attr[name] = a.Value
		c.texts = append(c.texts, a.Value)
		switch name {
		case "id":
			if c.ids[a.Value] {
				c.fault("id %s twice", a.Value)
			}
			c.ids[a.Value] = true
		case "aria-labelledby":
			c.links = append(c.links, a.Value)
		case "href":
			id, within := strings.CutPrefix(a.Value, "#")
			if within {
				c.links = append(c.links, id)
			} else if !strings.HasPrefix(a.Value, "data:image/png;base64,") || e.Name.Local != "image" {
				c.fault("href %s", a.Value)
			}
		case "style":
			if !styleAttr.MatchString(a.Value) {
				c.fault("style %s", a.Value)
			}
		}
	}
	return attr
}
