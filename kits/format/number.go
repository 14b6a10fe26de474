package format

import (
	"fmt"
	"regexp"
	"strconv"

	"gopkg.in/yaml.v3"

	"dryfit/kits/geom"
)

// Number is a number with its position.
type Number = Placed[float64]

var (
	decimal     = regexp.MustCompile(`^[-+]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][-+]?[0-9]+)?$`)
	leadingZero = regexp.MustCompile(`^[-+]?0[0-9]`)
)

// number is any decimal number.
var number = Place(Shape[float64]{read: func(r *reader, n *yaml.Node) (float64, bool) {
	if n.Kind != yaml.ScalarNode || n.Tag != "!!int" && n.Tag != "!!float" {
		r.fault(n, "must be a number, not %s", kindOf(n))
		return 0, false
	}
	v, err := strconv.ParseFloat(n.Value, 64)
	if err != nil || !decimal.MatchString(n.Value) || leadingZero.MatchString(n.Value) {
		r.fault(n, "%q must be a plain decimal number", n.Value)
		return 0, false
	}
	return v, true
}})

// Count is a whole number from 1 to most.
func Count(most int) Shape[int] { return Whole(1, most) }

// Whole is a whole number from least to most.
func Whole(least, most int) Shape[int] {
	s := number.Check("whole number", Schema{"type": "integer", "minimum": least, "maximum": most}, func(n Number) string {
		if v := n.Value; v == float64(int(v)) && v >= float64(least) && v <= float64(most) {
			return ""
		}
		return fmt.Sprintf("must be a whole number from %d to %d", least, most)
	})
	return Mapped(s, func(n Number) int { return int(n.Value) })
}

// Positive is a number above 0 and at most most, in a unit that the reference names.
func Positive(most float64, unit string) Shape[Number] {
	return number.Check(unit, Schema{"type": "number", "exclusiveMinimum": 0, "maximum": most}, func(n Number) string {
		if n.Value > 0 && n.Value <= most {
			return ""
		}
		return fmt.Sprintf("must be more than 0 and at most %g", most)
	})
}

// maxLength limits every length, in the units of the file: far above any model.
const maxLength = 1e6

// Length is a positive length in the units of the file.
var Length = Positive(maxLength, "length")

// Spare is a length that may be zero, in the units of the file.
var Spare = number.Check("length", Schema{"type": "number", "minimum": 0, "maximum": maxLength}, func(n Number) string {
	if n.Value >= 0 && n.Value <= maxLength {
		return ""
	}
	return fmt.Sprintf("must be 0 or more and at most %g", maxLength)
})

// Coordinate is a position along an axis, in the units of the file.
var Coordinate = number.Check("length", Schema{"type": "number", "minimum": -maxLength, "maximum": maxLength}, func(n Number) string {
	if n.Value >= -maxLength && n.Value <= maxLength {
		return ""
	}
	return fmt.Sprintf("must be between %g and %g", -maxLength, maxLength)
})

// Numbers is a list of a fixed number of numbers of one shape.
func Numbers(many int, one Shape[Number], says string) Shape[Placed[[]float64]] {
	return Place(Shape[[]float64]{func(r *reader, n *yaml.Node) ([]float64, bool) {
		if n.Kind != yaml.SequenceNode || len(n.Content) != many {
			r.fault(n, "must be a list of %d numbers, not %s", many, kindOf(n))
			return nil, false
		}
		v := make([]float64, many)
		ok := true
		for i, c := range n.Content {
			x, fine := one.read(r, c)
			v[i], ok = x.Value, ok && fine
		}
		return v, ok
	}, listSchema(one, many, many), says, false})
}

// Direction is a direction of any length.
var Direction = Mapped(Numbers(3, Coordinate, "[x, y, z]").Check("[x, y, z]", directionSchema, func(n Placed[[]float64]) string {
	if geom.Vec(n.Value) != (geom.Vec{}) {
		return ""
	}
	return "is not a direction: at least one of the three must not be 0"
}), func(n Placed[[]float64]) geom.Vec { return geom.Vec(n.Value) })

var directionSchema = Schema{
	"type": "array", "minItems": 3, "maxItems": 3,
	"items":    Coordinate.schema,
	"contains": Schema{"not": Schema{"const": 0}},
}
