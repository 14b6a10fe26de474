package draw

import (
	"bytes"
	"compress/zlib"
	"dryfit/graphviz/picture"
	"encoding/gob"
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/zeebo/xxh3"
)

// cacheVersion changes whenever the same scene would give another picture, so that old
// albums are not taken for new.
const cacheVersion = 5

// maxCache bounds what is read of an album, in bytes unpacked.
const maxCache = 1 << 28

// Cache keeps pictures by what they show: a picture whose pieces, ways and labels are
// the same as before is not made again.
type Cache struct {
	was, is cached
}

type cached struct {
	Renderings     map[string]Rendering
	Choices   map[string][]Choice
	Portraits map[string]*picture.Picture
}

func newCached() cached {
	return cached{map[string]Rendering{}, map[string][]Choice{}, map[string]*picture.Picture{}}
}

// NewCache is an album without pictures.
func NewCache() *Cache { return &Cache{newCached(), newCached()} }

// ReadCache reads an album that has been kept. One that is damaged, or of another
// version of the program, is an error.
func ReadCache(data []byte) (*Cache, error) {
	head, rest, _ := bytes.Cut(data, []byte("\n"))
	if string(head) != cacheHead() {
		return nil, fmt.Errorf("not an album of this version")
	}
	if len(rest) < 8 || sum(rest[8:]) != [8]byte(rest[:8]) {
		return nil, fmt.Errorf("the album is damaged")
	}
	z, err := zlib.NewReader(bytes.NewReader(rest[8:]))
	if err != nil {
		return nil, err
	}
	a := NewCache()
	if err := gob.NewDecoder(io.LimitReader(z, maxCache)).Decode(&a.was); err != nil {
		return nil, err
	}
	if !a.was.sound() {
		return nil, fmt.Errorf("the album holds what no picture has")
	}
	return a, nil
}

// sound reports whether cached can be used without a look at each: albums lie beside kits,
// which are handed on, and one can be whole without having been made by this program.
func (p *cached) sound() bool {
	aView := func(v int) bool { return v >= 0 && v < len(Views) }
	for _, t := range p.Renderings {
		if t.Picture == nil || !aView(t.View) || len(t.Away) > 0 && slices.Min(t.Away) < 0 {
			return false
		}
	}
	for _, list := range p.Choices {
		for _, c := range list {
			if !aView(c.View) || slices.ContainsFunc(c.Distance, func(d float64) bool { return !(math.Abs(d) <= farthestMove) }) {
				return false
			}
		}
	}
	return true
}

// farthestMove is more than a mover can be drawn from its seat, in mm.
const farthestMove = 1e12

func cacheHead() string { return fmt.Sprintf("dryfit pictures %d", cacheVersion) }

func sum(data []byte) [8]byte {
	var out [8]byte
	h := xxh3.Hash(data)
	for i := range out {
		out[i] = byte(h >> (8 * i))
	}
	return out
}

// Bytes is the album as it is kept, with the pictures that were asked for since it
// was read and no others, so that it does not grow for ever.
func (a *Cache) Bytes() ([]byte, error) {
	var packed bytes.Buffer
	z, err := zlib.NewWriterLevel(&packed, zlib.BestSpeed)
	if err != nil {
		return nil, err
	}
	if err := gob.NewEncoder(z).Encode(a.is); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	s := sum(packed.Bytes())
	return append(append([]byte(cacheHead()+"\n"), s[:]...), packed.Bytes()...), nil
}

// Changed reports whether pictures were made, or are no longer asked for.
func (a *Cache) Changed() bool {
	return !sameKeys(a.was.Renderings, a.is.Renderings) || !sameKeys(a.was.Choices, a.is.Choices) || !sameKeys(a.was.Portraits, a.is.Portraits)
}

func sameKeys[V any](a, b map[string]V) bool {
	if len(a) != len(b) {
		return false
	}
	for k := range a {
		if _, ok := b[k]; !ok {
			return false
		}
	}
	return true
}

// kept scores a page up, and keeps it for the next time.
func kept[V any](was, is map[string]V, key string) (V, bool) {
	if v, ok := is[key]; ok {
		return v, true
	}
	v, ok := was[key]
	if ok {
		is[key] = v
	}
	return v, ok
}

// OursCache reports whether a file is an album of this or another version.
func OursCache(file []byte) bool { return bytes.HasPrefix(file, []byte("dryfit pictures ")) }
