package explain

import (
	"fmt"
	"time"

	"dryfit/kits/format"
	"dryfit/plan"
)

// plannedFindings compares the times that the designer plans for steps with the
// waits: a step planned before what it rests on has set is a mistake on paper
// that breaks a joint on the bench. Steps without a planned time start as early
// as possible, with any number of hands.
func (q *order) plannedFindings() []plan.Finding {
	r := q.explainer
	starts, soonest := q.plannedStarts(r.planned())
	var list []plan.Finding
	for _, v := range q.Order {
		at := r.Steps[v].Said().Planned
		if at == nil || soonest[v] <= *at {
			continue
		}
		list = append(list, q.tooSoon(v, *at, soonest[v], starts))
	}
	return list
}

// planned are the times that the kit plans, by step.
func (r *explainer) planned() map[int]time.Duration {
	list := map[int]time.Duration{}
	for v := range r.Steps {
		if at := r.Steps[v].Said().Planned; at != nil {
			list[v] = *at
		}
	}
	return list
}

// plannedStarts computes when each step starts, at its planned time or as soon as
// it can, and the soonest it could, given what comes before it.
func (q *order) plannedStarts(planned map[int]time.Duration) (starts, soonest []time.Duration) {
	list := q.Solution.Constraints.Activities()
	starts, soonest = make([]time.Duration, len(list)), make([]time.Duration, len(list))
	for _, v := range q.Order {
		for _, w := range list[v].After {
			soonest[v] = max(soonest[v], starts[w.On]+list[w.On].Takes+w.For)
		}
		starts[v] = soonest[v]
		if at, is := planned[v]; is {
			starts[v] = at
		}
	}
	return starts, soonest
}

func (q *order) tooSoon(v int, at, soonest time.Duration, starts []time.Duration) plan.Finding {
	r := q.explainer
	f := plan.Finding{Kind: plan.Times, Grade: plan.Fault, Step: r.Name(v), Steps: []int{v}, Pos: r.Steps[v].Pos(),
		Text: fmt.Sprintf("%s is planned at %s, too soon: what comes before it allows %s at the earliest", r.Name(v), hours(at), hours(soonest))}
	list := r.Activities()
	for _, w := range list[v].After {
		if starts[w.On]+list[w.On].Takes+w.For <= at {
			continue
		}
		text := fmt.Sprintf("%s starts at %s and takes %s", r.Name(w.On), hours(starts[w.On]), hours(list[w.On].Takes))
		if w.For > 0 {
			text += fmt.Sprintf("; it must set for %s before this", hours(w.For))
		}
		f.Because = append(f.Because, plan.Reason{Text: text, At: r.Steps[w.On].Pos().String()})
	}
	f.Because = append(f.Because, plan.Reason{Text: fmt.Sprintf("%s is planned at %s", r.Name(v), hours(at)), At: r.Steps[v].Pos().String()})
	with := r.planned()
	with[v] = soonest
	if _, then := q.plannedStarts(with); then[v] <= soonest {
		f.Repairs = []plan.Repair{{Text: fmt.Sprintf("plan %s at %s or later", r.Name(v), hours(soonest)), Tried: true}}
	}
	return f
}

func hours(d time.Duration) string { return format.Time(d.Round(time.Minute)) }
