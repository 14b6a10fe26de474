package magnets

import (
	"fmt"
	"math"

	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/plan"
)

// Findings lists what a designer should know of the magnets of a kit. The source is nil
// for a kit without meshes.
func Findings(k *kits.Kit, from *mesh.Collection) []plan.Finding {
	var list []plan.Finding
	pairs := Pairs(k, from)
	for _, m := range k.Magnets {
		list = append(list, wrong(k, m, pairs, from)...)
		list = append(list, pocketFindings(k, m)...)
	}
	return list
}

func finding(g plan.Grade, k *kits.Kit, m *kits.Magnets, pieces []int, text string) plan.Finding {
	f := plan.Finding{Kind: plan.Magnets, Grade: g, Text: text, Because: []plan.Reason{}, Repairs: []plan.Repair{}}
	for _, p := range pieces {
		f.Pieces = append(f.Pieces, k.Pieces[p].ID)
	}
	f.Piece = f.Pieces[0]
	if len(f.Pieces) == 1 {
		f.Pieces = nil
	}
	return f.Placed(m.Pos)
}

// wrong: pairs of an entry that do not attract.
func wrong(k *kits.Kit, m *kits.Magnets, pairs []Pair, from *mesh.Collection) []plan.Finding {
	var list []plan.Finding
	for _, v := range []Verdict{Repel, Neither} {
		var mine, theirs []int
		for _, p := range pairs {
			if p.Of == m && p.Verdict == v {
				mine, theirs = append(mine, p.A), append(theirs, p.B)
			}
		}
		if len(mine) == 0 {
			continue
		}
		text := fmt.Sprintf("%s and %s repel: like poles face each other in %s", name(k, mine), name(k, theirs), pairsOf(len(mine), len(m.Pieces)))
		if v == Neither {
			text = fmt.Sprintf("%s and %s hardly hold: their poles lie across each other in %s", name(k, mine), name(k, theirs), pairsOf(len(mine), len(m.Pieces)))
		}
		f := finding(plan.Fault, k, m, mine, text)
		f.Because = []plan.Reason{
			{Text: fmt.Sprintf("the north of %s points toward %s", name(k, mine), plan.Axis(m.North)), At: m.Pos.String()},
			{Text: fmt.Sprintf("the north of %s points toward %s", name(k, theirs), plan.Axis(k.MagnetsOf(theirs[0]).North)), At: k.MagnetsOf(theirs[0]).Pos.String()},
		}
		f.Repairs = turned(k, m, from)
		list = append(list, f)
	}
	return list
}

// turned tries to turn the magnets of the entry, then to lay them as their mates are.
func turned(k *kits.Kit, m *kits.Magnets, from *mesh.Collection) []plan.Repair {
	as := m.North
	for _, try := range [][3]float64{{-as[0], -as[1], -as[2]}, k.MagnetsOf(m.Mates[0]).North} {
		good := true
		for _, p := range matched(k, m, try, from) {
			good = good && p.Verdict == Attract
		}
		if good {
			return []plan.Repair{{Text: fmt.Sprintf("turn the %d of %s%s: north: %s, at %s", len(m.Pieces), name(k, m.Pieces), sits(k, m.Pieces[0]), vector(try), m.Pos)}}
		}
	}
	return nil
}

// sits says what a magnet sits in, if it is fitted to something.
func sits(k *kits.Kit, p int) string {
	j := k.Fitted(p)
	if j == nil {
		return ""
	}
	return " in " + k.Pieces[j.Onto[0]].ID
}

func vector(v [3]float64) string { return fmt.Sprintf("[%g, %g, %g]", v[0]+0, v[1]+0, v[2]+0) }

// name is the part for all its copies, or the pieces.
func name(k *kits.Kit, pieces []int) string {
	p := k.Pieces[pieces[0]]
	if len(pieces) == p.Part.Quantity {
		return p.Part.ID
	}
	text := p.ID
	for i, q := range pieces[1:min(len(pieces), 6)] {
		sep := ", "
		if i == len(pieces)-2 {
			sep = " and "
		}
		text += sep + k.Pieces[q].ID
	}
	if len(pieces) > 6 {
		text += fmt.Sprintf(" and %d more", len(pieces)-6)
	}
	return text
}

func pairsOf(n, all int) string {
	switch {
	case all == 1:
		return "the one pair"
	case n == all:
		return fmt.Sprintf("all %d pairs", n)
	}
	return fmt.Sprintf("%d of %d pairs", n, all)
}

// pocketFindings holds a pocket against its magnet.
func pocketFindings(k *kits.Kit, m *kits.Magnets) []plan.Finding {
	part := k.Pieces[m.Pieces[0]].Part
	wider, deeper, known := Slack(m, part)
	if !known {
		return nil
	}
	d, t, _ := Disc(part.Size.XYZ, m.North)
	right := plan.Repair{Text: fmt.Sprintf("make it %s to %s mm across and %s to %s mm deep", mm(d+leastSlack), mm(d+mostSlack), mm(t+leastSlack), mm(t+mostSlack))}
	var list []plan.Finding
	say := func(g plan.Grade, text string) {
		f := finding(g, k, m, m.Pieces, fmt.Sprintf("%s of %s x %s mm: its pocket of %s mm %s", part.ID, mm(d), mm(t), mm(m.Pocket.Diameter)+" x "+mm(m.Pocket.Depth), text)).Placed(m.Pocket.Pos)
		f.Because = []plan.Reason{{Text: "pocket of " + part.ID, At: m.Pocket.Pos.String()}, {Text: "size of " + part.ID, At: part.Size.Pos.String()}}
		f.Repairs = []plan.Repair{right}
		list = append(list, f)
	}
	switch {
	case wider < -sameLength:
		say(plan.Fault, "is too narrow")
	case wider < leastSlack-sameLength:
		say(plan.Caution, "leaves no room for glue, and prints come out narrow")
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

func mm(x float64) string { return fmt.Sprintf("%g", math.Round(x*100)/100+0) }
