package rescale

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"dryfit/plan"
)

// Kinds of findings, beside those of a check.
const (
	Walls      = "wall"      // too thin to print
	Seating    = "seat"      // what keeps its size no longer suits its place
	Clearances = "clearance" // what moves binds, or sits loose
	Texts      = "text"      // words and numbers that are not scaled
	Present    = "present"   // what is wrong at the present scale already
)

func finding(kind string, g plan.Grade, text string) plan.Finding {
	return plan.Finding{Kind: kind, Grade: g, Text: text, Because: []plan.Reason{}, Repairs: []plan.Repair{}}
}

// byGrade puts faults first, then cautions, then notes.
func byGrade(list []plan.Finding) {
	rank := map[plan.Grade]int{plan.Fault: 0, plan.Caution: 1, plan.Note: 2}
	slices.SortStableFunc(list, func(a, b plan.Finding) int { return cmp.Compare(rank[a.Grade], rank[b.Grade]) })
}

// mm writes lengths in the unit of the kit: 62 x 38 mm.
func (r *Report) mm(sides ...float64) string {
	decimals := 2
	if r.Kit.Unit.MM > 1 {
		decimals = 3
	}
	var parts []string
	for _, s := range sides {
		parts = append(parts, number(s/r.Kit.Unit.MM, decimals))
	}
	return strings.Join(parts, " x ") + " " + r.Kit.Unit.Name
}

func number(v float64, decimals int) string {
	shift := math.Pow10(decimals)
	return strconv.FormatFloat(math.Round(v*shift)/shift+0, 'f', -1, 64)
}

func place(p [3]float64) string {
	return fmt.Sprintf("x %.1f, y %.1f, z %.1f mm", p[0]+0, p[1]+0, p[2]+0)
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// maxNames bounds how many names stand in one sentence.
const maxNames = 12

func some(names []string) string {
	if len(names) <= maxNames {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:maxNames], ", "), len(names)-maxNames)
}

func percent(share float64) string { return number(100*share, 0) + " %" }
