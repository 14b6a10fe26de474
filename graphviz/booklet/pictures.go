package booklet

import (
	"runtime"
	"sync"
	"sync/atomic"

	"dryfit/graphviz/draw"
)

// stepPaper is the room for the picture of a step, so that two steps of usual length
// stand on a page of A4.
var stepPaper = draw.Paper{Width: 180, Height: 82}

// takePictures takes the pictures of all steps: first what each is to show, as the
// build goes on; then the views, for each build over all its steps; then the pictures.
func (m *maker) takePictures() error {
	m.pictures = map[int]*StepPicture{}
	steps := make([][]int, len(m.q.Builds)+1)
	for _, mv := range m.q.Moves() {
		if shot := m.shot(mv); shot != nil {
			m.pictures[mv.Step] = &StepPicture{Step: mv.Step, Scene: shot}
			steps[m.q.BuildOf[mv.Step]] = append(steps[m.q.BuildOf[mv.Step]], mv.Step)
		}
	}
	done := 0
	var jobs []job
	for _, list := range steps {
		shots := make([]draw.Scene, len(list))
		for i, v := range list {
			shots[i] = *m.pictures[v].Scene
		}
		if len(list) == 0 {
			continue
		}
		chosen, err := m.renderer.Choose(m.ctx, shots, -1, func(x float64) {
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
	return m.takeAll(jobs)
}

// job is a picture to be taken.
type job struct {
	picture *StepPicture
	chosen  draw.Choice
	before  int
}

// takeAll takes pictures side by side.
func (m *maker) takeAll(jobs []job) error {
	var next, ready atomic.Int64
	var all sync.WaitGroup
	var mu sync.Mutex
	var failed error
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= len(jobs) {
					return
				}
				j := jobs[i]
				t, err := m.renderer.Render(m.ctx, j.picture.Scene, j.chosen, j.before, stepPaper)
				if err == nil {
					err = m.ctx.Err()
				}
				if err != nil {
					mu.Lock()
					failed = err
					mu.Unlock()
					return
				}
				j.picture.Rendering = t
				m.progress("drawing the steps", float64(ready.Add(1))/float64(len(jobs)))
			}
		})
	}
	all.Wait()
	return failed
}
