package booklet

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/graphviz/document"
	"dryfit/graphviz/draw"
	"dryfit/kits"
	"dryfit/plan"
)

func (c *checker) eachStepDoes() (broken, known []string) {
	for _, s := range c.steps {
		kind := c.rules.Steps[c.tasks[s.Number]].Kind
		if kind == plan.Fit && len(s.Needs) == 0 || strings.Trim(s.Title, ". ") == "" {
			broken = append(broken, fmt.Sprintf("step %d adds nothing and names no operation", s.Number))
		}
	}
	return broken, nil
}

// piecesAddUp counts what the steps take, and the bases that sub-builds
// start with, against the quantities of the lists.
func (c *checker) piecesAddUp() (broken, known []string) {
	shown := map[string]int{}
	for _, s := range c.steps {
		for _, item := range s.Needs {
			shown[item.Ref] += item.Count
		}
	}
	bases := 0
	for p := range c.kit.Pieces {
		if c.kit.Fitted(p) == nil {
			shown[c.numbers.Piece(p)]++
			bases++
		}
	}
	listed := map[string]bool{}
	c.eachRow(func(ref, quantity string) {
		listed[ref] = true
		if fmt.Sprint(shown[ref]) != quantity {
			broken = append(broken, fmt.Sprintf("%s: the list has %s, the steps %d", ref, quantity, shown[ref]))
		}
	})
	for ref := range shown {
		if !listed[ref] {
			broken = append(broken, ref+" stands in the steps and in no list")
		}
	}
	slices.Sort(broken)
	return broken, []string{fmt.Sprintf("%d pieces, %d of them the bases of groups", len(c.kit.Pieces), bases)}
}

// eachRow goes through the lists of parts that stand in the model.
func (c *checker) eachRow(do func(ref, quantity string)) {
	for _, ch := range c.made.Book.Chapters {
		if ch.ID != "parts" && ch.ID != "hardware" {
			continue
		}
		for _, b := range ch.Blocks {
			if t, ok := b.(document.Table); ok && len(t.Head) == 8 {
				for _, r := range t.Rows {
					do(r.Cells[1].Text, r.Cells[2].Text)
				}
			}
		}
	}
}

func (c *checker) numbersRun() (broken, known []string) {
	for i, s := range c.steps {
		if s.Number != i+1 {
			broken = append(broken, fmt.Sprintf("step %d stands at place %d", s.Number, i+1))
		}
	}
	if len(c.steps) != len(c.rules.Steps) {
		broken = append(broken, fmt.Sprintf("%d steps of %d are in the booklet", len(c.steps), len(c.rules.Steps)))
	}
	return broken, nil
}

func (c *checker) oneMainPart() (broken, known []string) {
	for _, s := range c.steps {
		if len(s.Needs) > 1 {
			broken = append(broken, fmt.Sprintf("step %d has %d different parts", s.Number, len(s.Needs)))
		}
	}
	return broken, nil
}

func (c *checker) oneOperation() (broken, known []string) {
	for _, s := range c.steps {
		t := c.rules.Steps[c.tasks[s.Number]].Task
		if t != nil && strings.Count(t.Do, ";") >= 3 {
			broken = append(broken, fmt.Sprintf("step %d names many operations: %s", s.Number, t.Do))
		}
	}
	return broken, nil
}

// fastenerWords are in the names of what holds other parts.
var fastenerWords = []string{"screw", "bolt", "rivet", "pin", "magnet"}

// fastenersFollow: magnets are spared the soldering iron, so they follow the last soldering
// since what they sit in. What other sub-builds do meanwhile does not come between.
func (c *checker) fastenersFollow() (broken, known []string) {
	for v, s := range c.rules.Steps {
		if s.Kind != plan.Fit {
			continue
		}
		part := c.kit.Pieces[s.Join.Pieces[0]].Part
		holds := s.Join.Onto[0]
		fitted, is := c.stepOf[holds]
		if part.ToPrint() || !is || !hasWord(part.Name, fastenerWords) {
			continue
		}
		// What is built up on the bench has its fastener before it is fitted itself.
		if c.between(fitted, v, hasWord(part.Name, []string{"magnet"})) > 2 {
			broken = append(broken, fmt.Sprintf("step %d: %s, to %s of step %d", c.q.Place[v], c.part(part), c.piece(holds), c.q.Place[fitted]))
		}
	}
	return broken, nil
}

// between counts the steps of the build of step v from another to v; from the last
// soldering on if that is to be waited for.
func (c *checker) between(from, v int, waits bool) int {
	count := 0
	for _, u := range c.q.Order[min(c.q.Place[from], c.q.Place[v]-1) : c.q.Place[v]-1] {
		switch {
		case waits && len(plan.Only(c.rules.StepHazards(u), "soldering")) > 0:
			count = 0
		case c.q.BuildOf[u] == c.q.BuildOf[v]:
			count++
		}
	}
	return count
}

func hasWord(name string, some []string) bool {
	name = strings.ToLower(name)
	return slices.ContainsFunc(some, func(w string) bool { return strings.Contains(name, w) })
}

// buildsWhole: what stands between two visits of a build must be built up on it.
func (c *checker) buildsWhole() (broken, known []string) {
	last := map[int]int{}
	for i, v := range c.visits {
		at, seen := last[v.build]
		last[v.build] = i
		if v.build == 0 || !seen {
			continue
		}
		for _, between := range c.visits[at+1 : i] {
			if !c.within(between.build, v.build) {
				broken = append(broken, fmt.Sprintf("%s is left for %s, and taken up again at step %d", c.buildName(v.build), c.buildName(between.build), c.q.Place[v.steps[0]]))
				break
			}
		}
	}
	return broken, nil
}

// within reports whether a build becomes part of another.
func (c *checker) within(u, of int) bool {
	for u > 0 {
		if u == of {
			return true
		}
		u = c.q.Builds[u].Parent
	}
	return false
}

// pairsTogether: two halves that are fitted to one another are no pair in this sense, nor
// are pieces of two sub-builds, each of which has a sequence of its own.
func (c *checker) pairsTogether() (broken, known []string) {
	for _, p := range c.kit.Parts {
		if p.Pair == nil || !p.InModel() || !p.Pair.InModel() || p.ID > p.Pair.ID {
			continue
		}
		a, isA := c.stepOf[c.kit.Copies(p)[0]]
		b, isB := c.stepOf[c.kit.Copies(p.Pair)[0]]
		if isA && isB && c.q.BuildOf[a] == c.q.BuildOf[b] && !c.joinedToEachOther(a, b) && abs(c.q.Place[a]-c.q.Place[b]) > 2 {
			broken = append(broken, fmt.Sprintf("%s in step %d, %s in step %d", c.part(p), c.q.Place[a], c.part(p.Pair), c.q.Place[b]))
		}
	}
	return broken, nil
}

// joinedToEachOther reports steps of one join, or of which one fits onto what the other
// fits.
func (c *checker) joinedToEachOther(a, b int) bool {
	x, y := c.rules.Steps[a].Join, c.rules.Steps[b].Join
	onto := func(x, y *kits.Join) bool {
		return slices.ContainsFunc(x.Onto, func(p int) bool { return slices.Contains(y.Pieces, p) })
	}
	return x == y || onto(x, y) || onto(y, x)
}

func abs(x int) int { return max(x, -x) }

func (c *checker) pairsMarked() (broken, known []string) {
	for _, p := range c.kit.Parts {
		if p.Pair == nil || p.ID > p.Pair.ID {
			continue
		}
		a, b := c.numbers.Of(p), c.numbers.Of(p.Pair)
		if !handed(a, b) && !handed(b, a) && !handedNames(p.Name, p.Pair.Name) {
			broken = append(broken, fmt.Sprintf("%s and %s are a pair, and neither numbers nor names say which is which", c.part(p), c.part(p.Pair)))
		}
	}
	return broken, nil
}

func handed(a, b string) bool {
	return strings.HasSuffix(a, "P") && strings.HasSuffix(b, "S") || strings.HasSuffix(a, "L") && strings.HasSuffix(b, "R")
}

// handedNames reports whether names of a pair tell the two apart.
func handedNames(a, b string) bool {
	sides := []string{"port", "starboard", "left", "right", "links", "rechts", "backbord", "steuerbord"}
	return hasWord(a, sides) && hasWord(b, sides) && !strings.EqualFold(a, b)
}

// hardest lists the tenth of the steps that ask most, by what can be counted: pieces,
// what they are fitted to, turning, waits, fragile and narrow ones (the kind of counts
// that M. Richardson, G. Jones and M. Torrance found to predict difficulty, "Identifying
// the task variables that influence perceived object assembly complexity", Ergonomics 47,
// 2004; from memory).
func (c *checker) hardest() (broken, known []string) {
	type hard struct{ number, points int }
	var list []hard
	for _, s := range c.steps {
		v := c.tasks[s.Number]
		points := len(s.Notes) + len(s.Before)
		if j := c.rules.Steps[v].Join; j != nil {
			points += len(j.Pieces) + len(j.Onto)
		}
		if s.LastCall != nil {
			points += len(s.LastCall.Items)
		}
		if p := c.pictures[v]; p != nil && (p.Over || len(p.Away) > 0 || p.Seat < draw.LeastSeat) {
			points += 2
		}
		list = append(list, hard{s.Number, points})
	}
	slices.SortStableFunc(list, func(a, b hard) int { return b.points - a.points })
	var numbers []int
	for _, h := range list[:len(list)/10] {
		numbers = append(numbers, h.number)
	}
	slices.Sort(numbers)
	if len(numbers) > 0 {
		known = append(known, "steps "+c.numbersOf(numbers))
	}
	return nil, known
}

func (c *checker) numbersNamed() (broken, known []string) {
	for _, s := range c.steps {
		st := c.rules.Steps[c.tasks[s.Number]]
		if st.Join == nil {
			continue
		}
		for _, p := range append(copied(st.Join.Pieces), st.Join.Onto...) {
			if !strings.Contains(s.Title, c.numbers.Piece(p)) {
				broken = append(broken, fmt.Sprintf("step %d does not name %s", s.Number, c.numbers.Piece(p)))
			}
		}
	}
	return broken, nil
}

func (c *checker) couldBeSwapped() (broken, known []string) {
	for _, p := range c.kit.Parts {
		if p.Pair != nil && p.InModel() && p.ID < p.Pair.ID {
			known = append(known, fmt.Sprintf("%s and %s", c.part(p), c.part(p.Pair)))
		}
	}
	return nil, short(known)
}

func (c *checker) lookAlikesTold() (broken, known []string) {
	for _, p := range c.kit.Parts {
		for _, q := range c.itemOf[p].LooksLike {
			if p.ID < q.ID {
				known = append(known, fmt.Sprintf("%s and %s", c.part(p), c.part(q)))
			}
		}
	}
	return nil, short(known)
}

// short cuts a long list, and says so.
func short(list []string) []string {
	const most = 12
	if len(list) > most {
		return append(list[:most:most], fmt.Sprintf("and %d more", len(list)-most))
	}
	return list
}

func isLoose(j *kits.Join) bool {
	return j.Opens || j.Fixing != nil && j.Fixing.Kind == kits.Loose
}
