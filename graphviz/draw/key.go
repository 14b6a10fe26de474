package draw

import (
	"encoding/binary"
	"math"

	"github.com/zeebo/xxh3"
)

// key names a picture by everything it depends on: contents of meshes rather than names
// of pieces, so that a renamed piece keeps its pictures.
type key struct{ h *xxh3.Hasher }

func (r *Renderer) newKey(kind string, numbers ...int) *key {
	k := &key{xxh3.New()}
	k.word(kind)
	for _, n := range numbers {
		k.numbers(float64(n))
	}
	k.numbers(r.grain())
	return k
}

func (k *key) word(text string) {
	k.numbers(float64(len(text)))
	k.h.WriteString(text)
}

func (k *key) numbers(list ...float64) {
	var b [8]byte
	binary.LittleEndian.PutUint64(b[:], uint64(len(list)))
	k.h.Write(b[:])
	for _, v := range list {
		binary.LittleEndian.PutUint64(b[:], math.Float64bits(v))
		k.h.Write(b[:])
	}
}

func (k *key) text() string {
	s := k.h.Sum128().Bytes()
	return string(s[:])
}

// addPieces adds the contents of the meshes of pieces to a key.
func (r *Renderer) addPieces(k *key, list []int) {
	k.numbers(float64(len(list)))
	for _, p := range list {
		if r.Has(p) {
			k.word(string(r.meshes[p].Hash[:]))
			k.numbers(r.meshes[p].Min[:]...)
		} else {
			k.word("")
		}
	}
}

func (r *Renderer) addScene(k *key, scene *Scene) {
	for _, list := range [][]int{scene.Still, scene.Onto, scene.Run, scene.Emphasis} {
		r.addPieces(k, list)
	}
	for _, p := range scene.Emphasis {
		k.word(scene.Labels[p])
	}
	for _, m := range scene.Movers {
		k.word(m.Label)
		r.addPieces(k, m.Pieces)
		for _, l := range m.Way {
			k.numbers(l.Toward[:]...)
			k.numbers(l.Distance)
		}
	}
}
