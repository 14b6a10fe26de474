package magnets

import (
	"fmt"
	"slices"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// Findings lists what a designer should know of the magnets of a kit.
func Findings(p *plan.Project) []plan.Finding {
	var list []plan.Finding
	pairs := Pairs(p)
	for _, m := range p.Kit.Magnets {
		list = append(list, apart(p, m, pairs)...)
		list = append(list, alone(p, m)...)
		list = append(list, pocketFindings(p, m)...)
	}
	return list
}

// alone reports magnets that hold to nothing: the entry names no mates and is not
// named as a mate.
func alone(p *plan.Project, m *kits.Magnets) []plan.Finding {
	if len(m.Mates) > 0 {
		return nil
	}
	for _, other := range p.Kit.Magnets {
		for _, mate := range other.Mates {
			if slices.Contains(m.Pieces, mate) {
				return nil
			}
		}
	}
	return []plan.Finding{finding(plan.Caution, p, m.Pieces, fmt.Sprintf("%s: nothing is said to hold to it", names(p, m.Pieces))).
		Placed(m.Pos).Suggest("name what it holds to with mates: another magnet, or the steel part as made or bought")}
}

func finding(g plan.Grade, p *plan.Project, pieces []int, text string) plan.Finding {
	return plan.NewFinding(plan.Magnets, g, text).About(p.Kit.IDs(pieces)...)
}

// apart reports the pairs of an entry that do not attract.
func apart(p *plan.Project, m *kits.Magnets, pairs []Pair) []plan.Finding {
	var list []plan.Finding
	for _, v := range []Verdict{Repel, Neither} {
		var mine, theirs []int
		for _, pair := range pairs {
			if pair.Of == m && pair.Verdict == v {
				mine, theirs = append(mine, pair.A), append(theirs, pair.B)
			}
		}
		if len(mine) == 0 {
			continue
		}
		what := "repel: like poles face each other"
		if v == Neither {
			what = "hardly hold: their poles lie across each other"
		}
		other := p.Kit.MagnetsOf(theirs[0])
		list = append(list, finding(plan.Fault, p, mine, fmt.Sprintf("%s and %s %s in %s", names(p, mine), names(p, theirs), what, pairsOf(len(mine), len(m.Pieces)))).
			Placed(m.Pos).
			Since(fmt.Sprintf("the north of %s points toward %s", names(p, mine), english.Direction(m.North)), m.Pos).
			Since(fmt.Sprintf("the north of %s points toward %s", names(p, theirs), english.Direction(other.North)), other.Pos).
			Fix(turned(p, m)...))
	}
	return list
}

// turned tries to turn the magnets of the entry over, then to align them with
// their mates.
func turned(p *plan.Project, m *kits.Magnets) []string {
	for _, north := range []geom.Vec{geom.Vec(m.North).Opposite(), p.Kit.MagnetsOf(m.Mates[0]).North} {
		good := true
		for _, pair := range matched(p, m, north) {
			good = good && pair.Verdict == Attract
		}
		if good {
			in := ""
			if j := p.Kit.Fitted(m.Pieces[0]); j != nil {
				in = " in " + p.Kit.Pieces[j.Onto[0]].ID
			}
			return []string{fmt.Sprintf("turn the %d of %s%s: north: %s, at %s", len(m.Pieces), names(p, m.Pieces), in, english.Vector(north), m.Pos)}
		}
	}
	return nil
}

func names(p *plan.Project, pieces []int) string { return english.And(p.Kit.Names(pieces), 6) }

func pairsOf(n, all int) string {
	switch {
	case all == 1:
		return "the one pair"
	case n == all:
		return fmt.Sprintf("all %d pairs", n)
	}
	return fmt.Sprintf("%d of %d pairs", n, all)
}

// pocketFindings compares a pocket with its magnet.
func pocketFindings(p *plan.Project, m *kits.Magnets) []plan.Finding {
	part := p.Kit.Pieces[m.Pieces[0]].Part
	wider, deeper, known := Slack(m, part)
	if !known {
		return nil
	}
	d, t, _ := Disc(part.Size.XYZ, m.North)
	right := fmt.Sprintf("make it %s to %s mm across and %s to %s mm deep", mm(d+leastSlack), mm(d+mostSlack), mm(t+leastSlack), mm(t+mostSlack))
	var list []plan.Finding
	say := func(g plan.Grade, text string) {
		list = append(list, finding(g, p, m.Pieces, fmt.Sprintf("%s of %s x %s mm: its pocket of %s x %s mm %s", part.ID, mm(d), mm(t), mm(m.Pocket.Diameter), mm(m.Pocket.Depth), text)).
			Placed(m.Pocket.Pos).
			Since("pocket of "+part.ID, m.Pocket.Pos).
			Since("size of "+part.ID, part.Size.Pos).
			Suggest(right))
	}
	switch {
	case wider < -sameLength:
		say(plan.Fault, "is too narrow")
	case wider < leastSlack-sameLength:
		say(plan.Caution, "leaves no room for glue, and printed pockets come out narrow")
	case wider > mostSlack+sameLength:
		say(plan.Caution, "is so wide that the magnet tilts or wanders while the glue sets")
	}
	switch {
	case deeper < -sameLength:
		say(plan.Caution, "is too shallow: it stands proud by "+mm(-deeper)+" mm")
	case deeper < leastSlack-sameLength:
		say(plan.Caution, "is so shallow that glue under it makes it stand proud")
	case deeper > mostSlack+sameLength:
		say(plan.Caution, "is so deep that the pull across the gap falls off")
	}
	return list
}

func mm(x float64) string { return english.Number(x, 2) }
