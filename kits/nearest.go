package kits

import "fmt"

// didYouMean returns `, did you mean "x"?` for the nearest of the known names, or
// nothing when none is near. Ties go to the name that comes first.
func didYouMean(name string, known []string) string {
	if len(name) < 3 {
		return "" // everything is near to so little
	}
	best, bestAt := len(name)/3+1, ""
	for _, k := range known {
		if abs(len(k)-len(name)) >= best {
			continue
		}
		if d := distance(name, k); d < best {
			best, bestAt = d, k
		}
	}
	if bestAt == "" {
		return ""
	}
	return fmt.Sprintf(", did you mean %q?", bestAt)
}

// distance is the number of insertions, deletions, substitutions and swaps of
// neighbours between a and b (Damerau 1964, each character moved at most once).
func distance(a, b string) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
