// Package english puts names, counts and numbers into the sentences of findings and
// reports.
package english

import (
	"fmt"
	"strconv"
	"strings"

	"dryfit/kits/geom"
)

// And joins names: "a, b and c". Beyond most names it says how many others there
// are.
func And(names []string, most int) string {
	n := len(names)
	if n == 0 {
		return ""
	}
	last := names[n-1]
	if n > most {
		names = names[:most]
		last = fmt.Sprintf("%d others", n-most+1)
	}
	if len(names) == 1 {
		return last
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + last
}

// Count says how many there are of something: "1 part", "3 parts". The plural is
// given unless it just adds an s.
func Count(n int, one string, several ...string) string {
	return fmt.Sprintf("%d %s", n, Plural(n, one, several...))
}

// Plural is the word that goes with a count.
func Plural(n int, one string, several ...string) string {
	switch {
	case n == 1:
		return one
	case len(several) == 0:
		return one + "s"
	}
	return several[0]
}

// Number has at most the given decimals, no trailing zeros, and no negative zero.
func Number(v float64, decimals int) string {
	return strconv.FormatFloat(geom.Round(v, decimals), 'f', -1, 64)
}

// Percent is a share in whole percent.
func Percent(share float64) string { return Number(100*share, 0) + " %" }

// Vector is the three numbers of a vector, as a kit file has them.
func Vector(v [3]float64) string {
	return fmt.Sprintf("[%g, %g, %g]", v[0]+0, v[1]+0, v[2]+0)
}

// OneLine is a text with every run of white space as one space.
func OneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
