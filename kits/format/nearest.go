package format

import (
	"fmt"

	"github.com/hbollon/go-edlib"
)

// maxCompared limits how many names are compared for one file: a few seconds of
// work.
const maxCompared = 200_000

// Suggester proposes the nearest known names for unknown ones, until it has compared too
// many.
type Suggester struct{ compared int }

// Suggest is [DidYouMean], or nothing for a name that is too long or beyond the
// limit.
func (s *Suggester) Suggest(name string, known []string) string {
	if s.compared += len(known); s.compared > maxCompared || len(name) > MaxIDLength {
		return ""
	}
	return DidYouMean(name, known)
}

// DidYouMean returns `, did you mean "x"?` for the nearest of the known names, or
// nothing when none is near. Ties go to the name that comes first.
func DidYouMean(name string, known []string) string {
	if len(name) < 3 {
		return "" // everything is near so short a name
	}
	best, bestAt := len(name)/3+1, ""
	for _, k := range known {
		if max(len(k)-len(name), len(name)-len(k)) >= best {
			continue
		}
		if d := edlib.OSADamerauLevenshteinDistance(name, k); d < best {
			best, bestAt = d, k
		}
	}
	if bestAt == "" {
		return ""
	}
	return fmt.Sprintf(", did you mean %q?", bestAt)
}
