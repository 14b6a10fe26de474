package plan_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/explain"
	"dryfit/plan/schedule"
)

// timed gives the steps of a random kit hands-on times and its joins glue that takes
// long to set. Each hangs on the kit itself, so that a kit is always timed alike.
func timed(r *rand.Rand, text string) string {
	text = strings.Replace(text, "fixings:\n", "fixings:\n  slow: {kind: glue, handle: 2h, cure: 9h}\n", 1)
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		for _, key := range []string{"fit", "close", "wire", "do"} {
			start := "  - {" + key + ":"
			if !strings.HasPrefix(line, start) {
				continue
			}
			takes := []string{"takes: 30m, ", "takes: 2h, ", "takes: 11h, ", ""}[r.IntN(4)]
			if (key == "fit" || key == "close") && !strings.Contains(line, "with:") && r.IntN(3) > 0 {
				takes += "with: slow, "
			}
			lines[i] = "  - {" + takes + strings.TrimPrefix(line, "  - {")
		}
	}
	text = strings.Join(lines, "\n")
	if r.IntN(2) == 0 {
		text += "\npainting: {takes: 25m, sets: 5h}\n"
	}
	return text
}

// With any number of hands the steps of random kits, half of them with measurements,
// may be told in the sequence of their starts or of their ends: both are valid orders, as
// peeling tells. So no two that overlap can be in each other's way.
func TestSchedulesAreProven(t *testing.T) {
	kitsTried, overlaps := 0, 0
	for i := range uint64(1500) {
		r := rand.New(rand.NewPCG(1911, i))
		d := travelDraft{draft: generateDraft(r)}
		if i%2 == 0 {
			d = generateTravels(r)
		}
		kit, err := kits.Read("kit.yaml", []byte(timed(r, d.text())))
		if err != nil {
			continue // a ring of joins
		}
		rep, err := explain.CheckMeasured(kit, d.g)
		if err != nil {
			t.Fatal(err)
		}
		if rep.Sequence == nil {
			continue
		}
		kitsTried++
		for hands := 1; hands <= 3; hands++ {
			s, err := rep.Sequence.Schedule(hands, time.Duration(r.IntN(2)*8)*time.Hour)
			if err != nil {
				t.Fatal(err)
			}
			proven(t, s)
			keepsItsPromises(t, rep, s)
			if hands > 1 && s.Length < s.HandsOn {
				overlaps++
			}
			if t.Failed() {
				t.Fatalf("kit %d:\n%s", i, timed(rand.New(rand.NewPCG(1911, i)), d.text()))
			}
		}
	}
	if kitsTried < 300 || overlaps < 20 {
		t.Errorf("only %d kits had an order, in %d of them work went on side by side", kitsTried, overlaps)
	}
}

// proven asks that starts and ends are in valid orders.
func proven(t *testing.T, s *plan.Schedule) {
	t.Helper()
	for _, times := range [][]time.Duration{s.Start, s.End} {
		list := schedule.ByTime(times[:len(s.Sequence.Order)], s.Sequence.Place)
		rank := make([]int, len(list))
		for i, v := range list {
			rank[v] = i
		}
		// Peeling takes the last first wherever it may, so a valid order comes back as it is.
		if order, stuck := s.Sequence.Solution.Narrow.Order(rank); !slices.Equal(order, list) {
			t.Errorf("%v is no valid order; near it is %v, stuck %v", list, order, stuck)
		}
	}
	for i := 1; i < len(s.Order); i++ {
		if s.Start[s.Order[i]] < s.Start[s.Order[i-1]] {
			t.Errorf("step %d starts at %v, after it comes one at %v", i, s.Start[s.Order[i-1]], s.Start[s.Order[i]])
		}
	}
}

// keepsItsPromises checks a schedule against what it promises.
func keepsItsPromises(t *testing.T, rep *plan.Project, s *plan.Schedule) {
	t.Helper()
	type stretch struct{ from, to time.Duration }
	people := make([][]stretch, s.Hands+1)
	handsOn := time.Duration(0)
	for _, v := range s.Order {
		st := rep.Constraints.Steps[s.Step(v)]
		var takes time.Duration
		switch p := s.Painting(v); {
		case p != nil:
			takes = paintTime(t, s, v)
		case st.Join != nil:
			takes = st.Join.Takes
		case st.Wire != nil:
			takes = st.Wire.Takes
		default:
			takes = st.Task.Takes
		}
		handsOn += takes
		if s.End[v]-s.Start[v] < takes {
			t.Errorf("step %d takes %v, from %v to %v", v, takes, s.Start[v], s.End[v])
		}
		if takes > 0 {
			who := s.Who[v]
			if list := people[who]; who == 0 || len(list) > 0 && list[len(list)-1].to > s.Start[v] {
				t.Errorf("step %d is done by pair %d, which is busy", v, who)
			}
			people[who] = append(people[who], stretch{s.Start[v], s.End[v]})
		}
	}
	for v := range s.Sequence.Order {
		for w := range v {
			if s.End[v] > s.Start[v] && s.End[w] > s.Start[w] && s.Sequence.BuildOf[v] == s.Sequence.BuildOf[w] && s.Start[v] < s.End[w] && s.Start[w] < s.End[v] {
				t.Errorf("steps %d and %d of one sub-build go on at once", v, w)
			}
		}
	}
	if handsOn != s.HandsOn || s.Length*time.Duration(s.Hands) < handsOn {
		t.Errorf("hands-on %v, told %v, over after %v with %d pairs of hands", handsOn, s.HandsOn, s.Length, s.Hands)
	}
	if s.Floor > s.Bound || s.Bound > s.Length || s.Cured < s.Length {
		t.Errorf("floor %v, bound %v, length %v, cured %v", s.Floor, s.Bound, s.Length, s.Cured)
	}
}

// paintTime is how long painting takes, by the kit. Until it has set, nothing may be done
// with the pieces.
func paintTime(t *testing.T, s *plan.Schedule, activity int) (takes time.Duration) {
	t.Helper()
	k := s.Sequence.Solution.Constraints.Kit
	for _, piece := range s.Painting(activity).Pieces {
		takes += k.Painting.Takes
		for v, st := range s.Sequence.Solution.Constraints.Steps {
			if slices.Contains(st.InHand(), piece) && s.Start[v] < s.End[activity]+k.Painting.Sets {
				t.Errorf("step %d has %s in hand at %v, painted until %v", v, k.Pieces[piece].ID, s.Start[v], s.End[activity])
			}
		}
	}
	return takes
}

// The demonstration kit, with its orders of steps and sub-builds.
func TestDemonstrationSchedule(t *testing.T) {
	q := demoReport(t).Sequence
	last := time.Duration(0)
	for hands := 1; hands <= 4; hands++ {
		for _, day := range []time.Duration{0, 2 * time.Hour, 8 * time.Hour} {
			s, err := q.Schedule(hands, day)
			if err != nil {
				t.Fatal(err)
			}
			proven(t, s)
			// 44 h 25 min: the sum of takes in the kit file, and 12 min for each of 57 pieces.
			if s.HandsOn != 44*time.Hour+25*time.Minute {
				t.Errorf("hands-on %v", s.HandsOn)
			}
			if day == 0 && hands == 1 {
				if c := q.Clock(); s.Length > c.OnePair {
					t.Errorf("one pair of hands needs %v, in the order of the steps %v", s.Length, c.OnePair)
				}
			}
			for _, v := range s.Order {
				if since := s.Start[v] % (24 * time.Hour); day > 0 && since > day {
					t.Errorf("with %v a day step %d starts at %v", day, v, s.Start[v])
				}
			}
			last = s.Length
		}
	}
	if last > 10*24*time.Hour {
		t.Errorf("four pairs of hands need %v", last)
	}
}

const lampKit = `
kit: Lamp
fixings: {resin: {kind: glue, handle: 2h, cure: 20h}}
parts: {base: {}, post: {}, shade: {}, plate: {}, cap: {}}
joins:
  - {fit: post, to: base, with: resin, takes: 30m}
  - {fit: cap, to: shade, with: resin, takes: 1h}
  - {fit: plate, to: base, with: loose, takes: 15m}
  - {fit: shade, to: post, with: resin, bench: true, takes: 30m}
tasks:
  - {do: Polish, after: shade, takes: 1h}
`

// The cap sets while the post does; worked out by hand: post at 0:00, cap 0:30 to 1:30,
// plate 1:30 to 1:45, shade once the cap can be handled, at 3:30, and polish 20 h after
// 4:00. Nobody has work before the shade and before polishing.
func TestLampSchedule(t *testing.T) {
	s, err := checked(t, lampKit).Sequence.Schedule(1, 0)
	if err != nil {
		t.Fatal(err)
	}
	minutes := func(list ...int) (out []time.Duration) {
		for _, m := range list {
			out = append(out, time.Duration(m)*time.Minute)
		}
		return out
	}
	if want := minutes(0, 30, 90, 210, 24*60); !slices.Equal(s.Start, want) {
		t.Errorf("starts %v", s.Start)
	}
	if s.Length != 25*time.Hour || !s.Least() || s.Waiting != minutes(105 + 20*60)[0] {
		t.Errorf("length %v, bound %v, waiting %v", s.Length, s.Bound, s.Waiting)
	}
	if !slices.Equal(s.Critical, []bool{true, true, false, true, true}) {
		t.Errorf("critical %v", s.Critical)
	}
	if between := s.Between(s.End[0], s.Start[3]); !slices.Equal(between, []int{1, 2}) || s.Sets[0] != 2*time.Hour {
		t.Errorf("while the post sets for %v: %v", s.Sets[0], between)
	}
	if s.Next(s.Idle[0]) != 3 || s.Cause(3) != (schedule.Link{Activity: 3, Cause: schedule.Waits, On: 1, Free: 210 * time.Minute}) {
		t.Errorf("idle %v, the shade waits for %v", s.Idle, s.Cause(3))
	}
}

// The shade is painted before the cap goes onto it; worked out by hand: paint 0:00 to 0:30,
// post to 1:00, plate to 1:15, cap once the paint has set, 1:30 to 2:30, shade at 4:30 and
// polish 20 h after 5:00.
func TestPaintingTakesTime(t *testing.T) {
	text := strings.Replace(lampKit, "shade: {}", "shade: {paint: before-fit}", 1)
	q := checked(t, text+"painting: {takes: 30m, sets: 1h}\n").Sequence
	s, err := q.Schedule(1, 0)
	if err != nil {
		t.Fatal(err)
	}
	want := []int{30, 90, 60, 270, 25 * 60, 0}
	for i, at := range s.Start {
		if at != time.Duration(want[i])*time.Minute {
			t.Errorf("starts %v, want %v minutes", s.Start, want)
			break
		}
	}
	if s.Length != 26*time.Hour || !s.Least() || s.Painted != 1 || s.Does(5) != "Paint shade by itself" || s.Number(5) != 0 || s.Order[0] != 5 {
		t.Errorf("length %v, bound %v, %d painted, order %v: %s", s.Length, s.Bound, s.Painted, s.Order, s.Does(5))
	}
	if c := q.Clock(); c.HandsOn != 225*time.Minute || c.OnePair < s.Length {
		t.Errorf("hands-on %v, one pair %v", c.HandsOn, c.OnePair)
	}
	if s, err = checked(t, text).Sequence.Schedule(1, 0); err != nil || s.Painted != 1 || len(s.Order) != 5 {
		t.Errorf("without a time: %d painted, order %v, %v", s.Painted, s.Order, err)
	}
}

func TestScheduleRefuses(t *testing.T) {
	q := checked(t, lampKit).Sequence
	for _, hands := range []int{-1, 0, 101} {
		if _, err := q.Schedule(hands, 0); err == nil {
			t.Errorf("%d pairs of hands are accepted", hands)
		}
	}
}
