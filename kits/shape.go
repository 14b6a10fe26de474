package kits

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"gopkg.in/yaml.v3"
)

// shape describes one kind of value once: how it is read and how the schema
// writes it. read reports its faults to the reader and whether the value is usable.
type shape[V any] struct {
	read   func(r *reader, n *yaml.Node) (V, bool)
	schema schema
	says   string // for the reference: what a person writes
	// partial values are worth keeping though something in them is at fault, so
	// that names in them are known and the rest of the file can be checked.
	partial bool
}

// text is a string with its place.
type text struct {
	s   string
	pos Pos
}

const (
	idPattern       = `^[0-9]*[a-z][a-z0-9]*(-[a-z0-9]+)*$`
	pieceRefPattern = `^[0-9]*[a-z][a-z0-9]*(-[a-z0-9]+)*(\.[1-9][0-9]*)?$`
	durationPattern = `^[0-9]+(\.[0-9]+)?[smhd]( ?[0-9]+(\.[0-9]+)?[smhd])*$`
	scalePattern    = `^1:[1-9][0-9]*(\.[0-9]+)?$`
	maxTextLength   = 2000
	maxIDLength     = 60
)

var (
	idRegexp       = regexp.MustCompile(idPattern)
	pieceRefRegexp = regexp.MustCompile(pieceRefPattern)
	durationRegexp = regexp.MustCompile(durationPattern)
	durationPart   = regexp.MustCompile(`([0-9]+(?:\.[0-9]+)?)([smhd])`)
	scaleRegexp    = regexp.MustCompile(scalePattern)
)

// words is a text of one or more characters on one line.
var words = shape[string]{readWords, schema{"type": "string", "minLength": 1, "maxLength": maxTextLength, "pattern": `^[^\n\t]*$`}, "text", false}

// prose is a text that may have several lines.
var prose = shape[string]{readProse, schema{"type": "string", "minLength": 1, "maxLength": maxTextLength}, "text", false}

func readWords(r *reader, n *yaml.Node) (string, bool) {
	s, ok := readProse(r, n)
	if ok && strings.ContainsAny(s, "\n\t") {
		r.fault(n, "must be on one line")
		return "", false
	}
	return s, ok
}

func readProse(r *reader, n *yaml.Node) (string, bool) {
	if n.Kind != yaml.ScalarNode || n.Tag != "!!str" {
		hint := ""
		if n.Kind == yaml.ScalarNode && n.Tag != "!!null" {
			hint = "; put it in quotes"
		}
		r.fault(n, "must be text, not %s%s", kindOf(n), hint)
		return "", false
	}
	switch {
	case n.Value == "":
		r.fault(n, "is empty")
		return "", false
	case len([]rune(n.Value)) > maxTextLength:
		r.fault(n, "is longer than %d characters", maxTextLength)
		return "", false
	}
	return n.Value, true
}

// id names something: lower-case words joined by hyphens.
var id = shape[Ref]{readID, schema{"type": "string", "pattern": idPattern, "maxLength": maxIDLength, "not": schema{"enum": reservedNames}}, "id", false}

// reservedNames cannot be file names on every system, and meshes are files named
// after their pieces.
var reservedNames = func() []string {
	names := []string{"aux", "con", "nul", "prn"}
	for i := 1; i <= 9; i++ {
		names = append(names, "com"+strconv.Itoa(i), "lpt"+strconv.Itoa(i))
	}
	slices.Sort(names)
	return names
}()

func readID(r *reader, n *yaml.Node) (Ref, bool) {
	s, ok := readWords(r, n)
	if !ok {
		return Ref{}, false
	}
	switch {
	case len(s) > maxIDLength:
		r.fault(n, "id is longer than %d characters", maxIDLength)
	case !idRegexp.MatchString(s):
		r.fault(n, "%q is not an id: use lower-case words joined by hyphens, such as hull-left", s)
	case slices.Contains(reservedNames, s):
		r.fault(n, "%q cannot be an id: some systems reserve it as a file name", s)
	default:
		return Ref{s, r.pos(n)}, true
	}
	return Ref{}, false
}

// pieceRef names a part, which stands for all its copies, or one copy of it.
var pieceRef = shape[Ref]{readPieceRef, schema{"type": "string", "pattern": pieceRefPattern, "maxLength": maxIDLength + 8}, "piece", false}

func readPieceRef(r *reader, n *yaml.Node) (Ref, bool) {
	s, ok := readWords(r, n)
	if !ok {
		return Ref{}, false
	}
	if !pieceRefRegexp.MatchString(s) || len(s) > maxIDLength+8 {
		r.fault(n, "%q is not the name of a piece: write the part's id, or seat.2 for its second copy", s)
		return Ref{}, false
	}
	return Ref{s, r.pos(n)}, true
}

// flag is true or false.
var flag = shape[bool]{func(r *reader, n *yaml.Node) (bool, bool) {
	if n.Kind != yaml.ScalarNode || n.Tag != "!!bool" {
		r.fault(n, "must be true or false, not %s", kindOf(n))
		return false, false
	}
	return strings.EqualFold(n.Value, "true"), true
}, schema{"type": "boolean"}, "true or false", false}

// choice is one of a few words.
func choice(names ...string) shape[string] {
	return shape[string]{func(r *reader, n *yaml.Node) (string, bool) {
		s, ok := readWords(r, n)
		if !ok {
			return "", false
		}
		if !slices.Contains(names, s) {
			r.fault(n, "%q is none of %s%s", s, strings.Join(names, ", "), didYouMean(s, names))
			return "", false
		}
		return s, true
	}, schema{"enum": names}, strings.Join(names, ", "), false}
}

// maxDuration bounds a time: a year, far above any cure.
const maxDuration = 366 * 24 * time.Hour

// duration is a time such as 30s, 5m, 2h, 1h 30m or 3d.
var duration = shape[time.Duration]{func(r *reader, n *yaml.Node) (time.Duration, bool) {
	s, ok := readWords(r, n)
	if !ok {
		return 0, false
	}
	if !durationRegexp.MatchString(s) {
		r.fault(n, "%q is not a time: write 30s, 5m, 2h, 1h 30m or 3d", s)
		return 0, false
	}
	unit := map[string]time.Duration{"s": time.Second, "m": time.Minute, "h": time.Hour, "d": 24 * time.Hour}
	var sum float64
	for _, m := range durationPart.FindAllStringSubmatch(s, -1) {
		v, _ := strconv.ParseFloat(m[1], 64) // the pattern lets only digits through
		sum += v * float64(unit[m[2]])
	}
	if sum > float64(maxDuration) {
		r.fault(n, "%q is longer than 366d", s)
		return 0, false
	}
	return time.Duration(sum), true
}, schema{"type": "string", "pattern": durationPattern}, "time", false}

// scaleRatio is a scale such as 1:32.
var scaleRatio = shape[string]{func(r *reader, n *yaml.Node) (string, bool) {
	s, ok := readWords(r, n)
	if ok && !scaleRegexp.MatchString(s) {
		r.fault(n, "%q is not a scale: write \"1:32\", in quotes", s)
		return "", false
	}
	return s, ok
}, schema{"type": "string", "pattern": scalePattern}, `"1:N"`, false}

// fileName is a relative path that stays below the folder of the kit file.
var fileName = shape[string]{func(r *reader, n *yaml.Node) (string, bool) {
	s, ok := readWords(r, n)
	if !ok {
		return "", false
	}
	if fault := badPath(s); fault != "" {
		r.fault(n, "%q %s: name a file or folder beside the kit file", s, fault)
		return "", false
	}
	return s, true
}, schema{"type": "string", "minLength": 1, "maxLength": maxTextLength,
	"not": schema{"pattern": badPathPattern}}, "path", false}

// badPathPattern finds paths that leave the folder of the kit file, or that do
// not mean the same on every system.
const badPathPattern = `^/|\\|(^|/)\.\.(/|$)|[<>:"|?*]|(^|/)([Cc][Oo][Nn]|[Pp][Rr][Nn]|[Aa][Uu][Xx]|[Nn][Uu][Ll]|[Cc][Oo][Mm][1-9]|[Ll][Pp][Tt][1-9])(\.|/|$)`

var badPathRegexp = regexp.MustCompile(badPathPattern)

func badPath(s string) string {
	switch {
	case strings.HasPrefix(s, "/"):
		return "is an absolute path"
	case slices.Contains(strings.Split(s, "/"), ".."):
		return "leads out of the kit's folder"
	case badPathRegexp.MatchString(s):
		return "is not a file name on every system"
	}
	return ""
}

// optional reads a value into a pointer, so that not given can be told from zero.
func optional[V any](s shape[V]) shape[*V] {
	return shape[*V]{func(r *reader, n *yaml.Node) (*V, bool) {
		if v, ok := s.read(r, n); ok {
			return &v, true
		}
		return nil, false
	}, s.schema, s.says, false}
}

// placed keeps the place of a text.
func placed(s shape[string]) shape[*text] {
	return shape[*text]{func(r *reader, n *yaml.Node) (*text, bool) {
		if v, ok := s.read(r, n); ok {
			return &text{v, r.pos(n)}, true
		}
		return nil, false
	}, s.schema, s.says, false}
}

// single reads one value and says why there cannot be a list of them.
func single[V any](s shape[V], why string) shape[V] {
	read := s.read
	s.read = func(r *reader, n *yaml.Node) (V, bool) {
		if n.Kind == yaml.SequenceNode {
			var none V
			r.fault(n, "%s", why)
			return none, false
		}
		return read(r, n)
	}
	return s
}

// list is a list of least to most values.
func list[V any](s shape[V], least, most int) shape[[]V] {
	sch := schema{"type": "array", "items": s.schema, "minItems": least, "maxItems": most}
	return shape[[]V]{func(r *reader, n *yaml.Node) ([]V, bool) {
		if n.Kind != yaml.SequenceNode {
			r.fault(n, "must be a list, not %s", kindOf(n))
			return nil, false
		}
		return readList(r, n, s, least, most)
	}, sch, "list of " + s.says, false}
}

// oneOrMore is a single value, or a list of least to most.
func oneOrMore[V any](s shape[V], least, most int) shape[[]V] {
	sch := schema{"anyOf": []schema{s.schema, {"type": "array", "items": s.schema, "minItems": least, "maxItems": most}}}
	return shape[[]V]{func(r *reader, n *yaml.Node) ([]V, bool) {
		if n.Kind == yaml.SequenceNode {
			return readList(r, n, s, least, most)
		}
		v, ok := s.read(r, n)
		if !ok {
			return nil, false
		}
		return []V{v}, true
	}, sch, s.says + ", or a list of them", false}
}

func readList[V any](r *reader, n *yaml.Node, s shape[V], least, most int) ([]V, bool) {
	if len(n.Content) < least || len(n.Content) > most {
		if least == most {
			r.fault(n, "must name exactly %d", least)
		} else {
			r.fault(n, "must name %d to %d, not %d", least, most, len(n.Content))
		}
		return nil, false
	}
	var values []V
	ok := true
	for _, c := range n.Content {
		v, fine := s.read(r, c)
		if fine || s.partial {
			values = append(values, v)
		}
		ok = ok && fine
	}
	return values, ok
}
