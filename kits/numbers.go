package kits

import (
	"regexp"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// number is a number with its place.
type number struct {
	v   float64
	pos Pos
}

var (
	decimalRegexp = regexp.MustCompile(`^[-+]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][-+]?[0-9]+)?$`)
	leadingZero   = regexp.MustCompile(`^[-+]?0[0-9]`)
)

// count is a whole number from 1 to most.
func count(most int) shape[int] { return whole(1, most) }

// whole is a whole number from least to most.
func whole(least, most int) shape[int] {
	return shape[int]{func(r *reader, n *yaml.Node) (int, bool) {
		v, ok := readNumber(r, n)
		if !ok {
			return 0, false
		}
		if v != float64(int(v)) || v < float64(least) || v > float64(most) {
			r.fault(n, "must be a whole number from %d to %d", least, most)
			return 0, false
		}
		return int(v), true
	}, schema{"type": "integer", "minimum": least, "maximum": most}, "whole number", false}
}

// positive is a number above 0 and at most most, in the unit that says tells.
func positive(most float64, says string) shape[number] {
	return shape[number]{func(r *reader, n *yaml.Node) (number, bool) {
		v, ok := readNumber(r, n)
		if ok && (v <= 0 || v > most) {
			r.fault(n, "must be more than 0 and at most %g", most)
			ok = false
		}
		return number{v, r.pos(n)}, ok
	}, schema{"type": "number", "exclusiveMinimum": 0, "maximum": most}, says, false}
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

// pocket is the diameter and the depth of a round hole, in the units of the file.
var pocket = shape[Pocket]{func(r *reader, n *yaml.Node) (Pocket, bool) {
	v, ok := readNumbers(r, n, 2, length)
	if !ok {
		return Pocket{}, false
	}
	return Pocket{v[0], v[1], r.pos(n)}, true
}, schema{"type": "array", "items": length.schema, "minItems": 2, "maxItems": 2}, "[diameter, depth]", false}

// percentPattern is what percent reads.
const percentPattern = `^(100|[0-9]{1,2}(\.[0-9]+)?)%$`

var percentRegexp = regexp.MustCompile(percentPattern)

// percent is a share from 0 to 1, written 15%.
var percent = shape[float64]{func(r *reader, n *yaml.Node) (float64, bool) {
	s, ok := readWords(r, n)
	if !ok {
		return 0, false
	}
	if !percentRegexp.MatchString(s) {
		r.fault(n, "%q is not a share: write 0%% to 100%%", s)
		return 0, false
	}
	v, _ := strconv.ParseFloat(strings.TrimSuffix(s, "%"), 64) // the pattern lets only digits through
	return v / 100, true
}, schema{"type": "string", "pattern": percentPattern}, "percent", false}

// coordinate is a place along an axis, in the units of the file.
var coordinate = shape[number]{func(r *reader, n *yaml.Node) (number, bool) {
	v, ok := readNumber(r, n)
	if ok && (v < -maxLength || v > maxLength) {
		r.fault(n, "must be between %g and %g", -maxLength, maxLength)
		return number{}, false
	}
	return number{v, r.pos(n)}, ok
}, schema{"type": "number", "minimum": -maxLength, "maximum": maxLength}, "length", false}

// direction is a direction of travel; its length means nothing.
var direction = shape[[3]float64]{func(r *reader, n *yaml.Node) ([3]float64, bool) {
	v, ok := readNumbers(r, n, 3, coordinate)
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
	"items":    coordinate.schema,
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
