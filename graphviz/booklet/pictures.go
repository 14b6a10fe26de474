package booklet

import (
	"runtime"
	"sync/atomic"

	"golang.org/x/sync/errgroup"

	"dryfit/graphviz/draw"
)

// stepPaper is the room for the picture of a step, so that two steps of usual length
// stand on a page of A4.
var stepPaper = draw.Paper{Width: 180, Height: 82}

// drawSteps draws the pictures of all steps: it decides first what each shows, as the build
// goes on, then the views, for each build over all its steps, and then draws.
func (m *maker) drawSteps() error {
	m.pictures = map[int]*StepPicture{}
	steps := make([][]int, len(m.q.Builds)+1)
	for _, mv := range m.q.Moves() {
		if scene := m.scene(mv); scene != nil {
			m.pictures[mv.Step] = &StepPicture{Step: mv.Step, Scene: scene}
			steps[m.q.BuildOf[mv.Step]] = append(steps[m.q.BuildOf[mv.Step]], mv.Step)
		}
	}
	done := 0
	var jobs []job
	for _, list := range steps {
		scenes := make([]draw.Scene, len(list))
		for i, v := range list {
			scenes[i] = *m.pictures[v].Scene
		}
		if len(list) == 0 {
			continue
		}
		chosen, err := m.renderer.Choose(m.ctx, scenes, -1, func(x float64) {
			m.progress("choosing views", (float64(done)+x*float64(len(list)))/float64(len(m.pictures)))
		})
		if err != nil {
			return err
		}
		done += len(list)
		before := -1
		for i, v := range list {
			jobs = append(jobs, job{m.pictures[v], chosen[i], before})
			before = chosen[i].View
		}
	}
	return m.drawAll(jobs)
}

// job is a picture to be drawn.
type job struct {
	picture *StepPicture
	chosen  draw.Choice
	before  int
}

// drawAll draws pictures side by side.
func (m *maker) drawAll(jobs []job) error {
	var ready atomic.Int64
	all, ctx := errgroup.WithContext(m.ctx)
	all.SetLimit(runtime.GOMAXPROCS(0))
	for _, j := range jobs {
		all.Go(func() error {
			if err := ctx.Err(); err != nil {
				return err
			}
			r, err := m.renderer.Render(ctx, j.picture.Scene, j.chosen, j.before, stepPaper)
			j.picture.Rendering = r
			m.progress("drawing the steps", float64(ready.Add(1))/float64(len(jobs)))
			return err
		})
	}
	return all.Wait()
}
