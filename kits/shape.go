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

// number is a number with its place.
type number struct {
	v   float64
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
	decimalRegexp  = regexp.MustCompile(`^[-+]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][-+]?[0-9]+)?$`)
	leadingZero    = regexp.MustCompile(`^[-+]?0[0-9]`)
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

// count is a whole number from 1 to most.
func count(most int) shape[int] {
	return shape[int]{func(r *reader, n *yaml.Node) (int, bool) {
		v, ok := readNumber(r, n)
		if !ok {
			return 0, false
		}
		if v != float64(int(v)) || v < 1 || v > float64(most) {
			r.fault(n, "must be a whole number from 1 to %d", most)
			return 0, false
		}
		return int(v), true
	}, schema{"type": "integer", "minimum": 1, "maximum": most}, "whole number", false}
}

// maxLength bounds every length, in the units of the file: far above any model.
const maxLength = 1e6

// length is a positive length in the units of the file.
var length = shape[number]{readLength(0, true), schema{"type": "number", "exclusiveMinimum": 0, "maximum": maxLength}, "length", false}

// spare is a length that may be zero.
var spare = shape[number]{readLength(0, false), schema{"type": "number", "minimum": 0, "maximum": maxLength}, "length", false}

func readLength(least float64, open bool) func(r *reader, n *yaml.Node) (number, bool) {
	return func(r *reader, n *yaml.Node) (number, bool) {
		v, ok := readNumber(r, n)
		if !ok {
			return number{}, false
		}
		if v < least || open && v == least || v > maxLength {
			what := "0 or more"
			if open {
				what = "more than 0"
			}
			r.fault(n, "must be %s and at most %g", what, maxLength)
			return number{}, false
		}
		return number{v, r.pos(n)}, true
	}
}

func readNumber(r *reader, n *yaml.Node) (float64, bool) {
	if n.Kind != yaml.ScalarNode || n.Tag != "!!int" && n.Tag != "!!float" {
		r.fault(n, "must be a number, not %s", kindOf(n))
		return 0, false
	}
	v, err := strconv.ParseFloat(n.Value, 64)
	if err != nil || !decimalRegexp.MatchString(n.Value) || leadingZero.MatchString(n.Value) {
		r.fault(n, "%q must be a plain decimal number", n.Value)
		return 0, false
	}
	return v, true
}

// size is the three sides of a box, in the units of the file.
var size = shape[Size]{func(r *reader, n *yaml.Node) (Size, bool) {
	v, ok := readNumbers(r, n, 3, length)
	if !ok {
		return Size{}, false
	}
	return Size{[3]float64(v), r.pos(n)}, true
}, schema{"type": "array", "items": length.schema, "minItems": 3, "maxItems": 3}, "[x, y, z]", false}

// clear is the two sides of an opening, in the units of the file.
var clearOpening = shape[Opening]{func(r *reader, n *yaml.Node) (Opening, bool) {
	v, ok := readNumbers(r, n, 2, length)
	if !ok {
		return Opening{}, false
	}
	return Opening{W: v[0], H: v[1], Pos: r.pos(n)}, true
}, schema{"type": "array", "items": length.schema, "minItems": 2, "maxItems": 2}, "[width, height]", false}

// direction is a direction of travel; its length means nothing.
var direction = shape[[3]float64]{func(r *reader, n *yaml.Node) ([3]float64, bool) {
	any := shape[number]{func(r *reader, n *yaml.Node) (number, bool) {
		v, ok := readNumber(r, n)
		if ok && (v < -1e6 || v > 1e6) {
			r.fault(n, "must be between -1e6 and 1e6")
			return number{}, false
		}
		return number{v, r.pos(n)}, ok
	}, nil, "", false}
	v, ok := readNumbers(r, n, 3, any)
	if !ok {
		return [3]float64{}, false
	}
	if v[0] == 0 && v[1] == 0 && v[2] == 0 {
		r.fault(n, "is no direction: at least one of the three must not be 0")
		return [3]float64{}, false
	}
	return [3]float64(v), true
}, schema{
	"type": "array", "minItems": 3, "maxItems": 3,
	"items":    schema{"type": "number", "minimum": -1e6, "maximum": 1e6},
	"contains": schema{"not": schema{"const": 0}},
}, "[x, y, z]", false}

func readNumbers(r *reader, n *yaml.Node, many int, one shape[number]) ([]float64, bool) {
	if n.Kind != yaml.SequenceNode || len(n.Content) != many {
		r.fault(n, "must be a list of %d numbers, not %s", many, kindOf(n))
		return nil, false
	}
	v := make([]float64, many)
	ok := true
	for i, c := range n.Content {
		x, fine := one.read(r, c)
		v[i], ok = x.v, ok && fine
	}
	return v, ok
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
