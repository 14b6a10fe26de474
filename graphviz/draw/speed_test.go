package draw

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"sync/atomic"
	"testing"
	"time"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/files"
	"dryfit/kits/mesh/stl"
)

// toothedRing is a ring with teeth round it, cut finely: 2*round*across triangles, of
// which the teeth's corners and the rims are bends.
func toothedRing(teeth, round, across int, move [3]float64, size float64) []mesh.Triangle {
	at := func(i, k int) [3]float32 {
		angle := 2 * math.Pi * float64(i%round) / float64(round)
		tooth := math.Mod(float64(i%round)*float64(teeth)/float64(round), 1)
		high := 0.12 * min(1, max(0, 3-math.Abs(12*tooth-6))) // a tooth fills half of its place
		s := 4 * float64(k%across) / float64(across)          // round the section: out, up, in, down
		side, on := math.Modf(s)
		r, z := 0.7, 0.0
		switch outer := 1 + high; side {
		case 0:
			r, z = 0.7+on*(outer-0.7), 0
		case 1:
			r, z = outer, 0.3*on
		case 2:
			r, z = outer+on*(0.7-outer), 0.3
		case 3:
			r, z = 0.7, 0.3*(1-on)
		}
		sin, cos := math.Sincos(angle)
		return [3]float32{float32(move[0] + size*r*cos), float32(move[1] + size*r*sin), float32(move[2] + size*z)}
	}
	list := make([]mesh.Triangle, 0, 2*round*across)
	for i := range round {
		for k := range across {
			a, b, c, d := at(i, k), at(i+1, k), at(i+1, k+1), at(i, k+1)
			list = append(list, mesh.Triangle{a, b, c}, mesh.Triangle{a, c, d})
		}
	}
	return list
}

// twoMillion is the ring that a picture is to be made of within 0.4 s on two cores, once
// its edges are known.
func twoMillion(b *testing.B) *mesh.Mesh {
	b.Helper()
	m, err := mesh.FromTriangles("ring", toothedRing(100, 4000, 250, [3]float64{}, 50))
	if err != nil {
		b.Fatal(err)
	}
	return m
}

func BenchmarkRingEdges(b *testing.B) {
	m := twoMillion(b)
	for b.Loop() {
		if _, err := NewBody(m, 0); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRingPicture(b *testing.B) {
	body, err := NewBody(twoMillion(b), 0)
	if err != nil {
		b.Fatal(err)
	}
	for _, v := range []int{0, 4, 8} {
		b.Run(Views[v].Name, func(b *testing.B) {
			list := []thing{{body, geom.Vec{}, 1}}
			f := frameFor(Views[v], shadows(Views[v], list), 1200, 900)
			b.ReportAllocs()
			for b.Loop() {
				buf := newBuffer(f)
				buf.add(list...)
				if st := buf.strokes(list[0]); len(st.outline) == 0 {
					b.Fatal("nothing is drawn")
				}
			}
		})
	}
}

// A hundred pieces of ten million triangles together, read from files, in pictures:
// within 1.5 GB at most.
func BenchmarkLargeKit(b *testing.B) {
	const pieces, limit = 100, 1500 << 20
	folder := b.TempDir()
	var meshes []*mesh.Mesh
	for i := range pieces {
		at := [3]float64{float64(i%10) * 60, float64(i/10%10) * 60, 0}
		file := filepath.Join(folder, fmt.Sprintf("%02d.stl", i))
		f, err := os.Create(file)
		if err != nil {
			b.Fatal(err)
		}
		if err := stl.Write(f, toothedRing(40, 1000, 50, at, 25)); err != nil {
			b.Fatal(err)
		}
		if err := f.Close(); err != nil {
			b.Fatal(err)
		}
		read, err := files.Open(file, files.Options{})
		if err != nil {
			b.Fatal(err)
		}
		meshes = append(meshes, read...)
	}
	for b.Loop() {
		runtime.GC()
		peak := watch()
		s := NewRenderer(meshes, NewCache())
		var scenes []Scene
		for i := pieces - 3; i < pieces; i++ {
			scenes = append(scenes, Scene{Still: every(i), Onto: []int{i - 1}, Movers: []Mover{{Pieces: []int{i}, Way: straight(0, 0, -1)}}})
		}
		chosen, err := s.Choose(context.Background(), scenes, -1, nil)
		if err != nil {
			b.Fatal(err)
		}
		for i := range scenes {
			if _, err := s.Render(context.Background(), &scenes[i], chosen[i], -1, Paper{170, 120}); err != nil {
				b.Fatal(err)
			}
		}
		most := peak()
		b.ReportMetric(float64(most)/(1<<20), "MB-peak")
		if most > limit {
			b.Errorf("%d MB at most, want %d", most>>20, limit>>20)
		}
	}
}

// watch notes how much memory is in use, now and then, until the function it gives is
// called, which says how much it was at most.
func watch() func() uint64 {
	var most atomic.Uint64
	stop, done := make(chan bool), make(chan bool)
	go func() {
		defer close(done)
		for {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			most.Store(max(most.Load(), m.Sys-m.HeapReleased))
			select {
			case <-stop:
				return
			case <-time.After(20 * time.Millisecond):
			}
		}
	}()
	return func() uint64 {
		close(stop)
		<-done
		return most.Load()
	}
}

// The ring that the speed is measured with is closed, and its bends are those of its
// teeth and rims.
func TestToothedRing(t *testing.T) {
	b := bodyOf(t, toothedRing(12, 240, 40, [3]float64{}, 50))
	bends := 0
	for _, e := range b.edges {
		if e.sharp {
			bends++
		}
	}
	// Rims: 4 of 240 edges. Teeth: 4 corners each, cut into 40/4 on the outside.
	if want := 4*240 + 12*4*10; !b.closed || len(b.edges) != 3*240*40 || bends != want {
		t.Errorf("closed %v, %d edges, %d bends, want %d and %d", b.closed, len(b.edges), bends, 3*240*40, want)
	}
}
