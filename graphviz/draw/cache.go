package draw

import (
	"bytes"
	"compress/zlib"
	"encoding/gob"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"

	"github.com/zeebo/xxh3"

	"dryfit/graphviz/picture"
)

// cacheVersion changes whenever the same scene would be drawn differently, so that the
// pictures of an older program are not used.
const cacheVersion = 6

// maxCache bounds what is read of a cache, in bytes unpacked.
const maxCache = 1 << 28

// Cache keeps pictures by what they show: a scene whose pieces, travel and labels are the
// same as before is not drawn again.
type Cache struct {
	was, is cached
}

// cached are results by their keys; its fields are the format of the file.
type cached struct {
	Renderings map[string]Rendering
	Choices    map[string][]Choice
	Portraits  map[string]*picture.Picture
}

func newCached() cached {
	return cached{map[string]Rendering{}, map[string][]Choice{}, map[string]*picture.Picture{}}
}

// NewCache is a cache without pictures.
func NewCache() *Cache { return &Cache{newCached(), newCached()} }

// ReadCache reads a cache as [Cache.Bytes] wrote it. One that is damaged, or of another
// version of the program, is an error.
func ReadCache(data []byte) (*Cache, error) {
	head, rest, _ := bytes.Cut(data, []byte("\n"))
	if string(head) != cacheHead() {
		return nil, fmt.Errorf("not a picture cache of this version")
	}
	if len(rest) < 8 || sum(rest[8:]) != [8]byte(rest[:8]) {
		return nil, fmt.Errorf("the picture cache is damaged")
	}
	z, err := zlib.NewReader(bytes.NewReader(rest[8:]))
	if err != nil {
		return nil, err
	}
	c := NewCache()
	if err := gob.NewDecoder(io.LimitReader(z, maxCache)).Decode(&c.was); err != nil {
		return nil, err
	}
	if !c.was.sound() {
		return nil, fmt.Errorf("the picture cache holds impossible values")
	}
	return c, nil
}

// sound reports whether all entries can be used as they are. A cache
// may be intact and still be that of an earlier state of this program.
func (c *cached) sound() bool {
	aView := func(v int) bool { return v >= 0 && v < len(Views) }
	for _, r := range c.Renderings {
		if r.Picture == nil || !aView(r.View) || len(r.Away) > 0 && slices.Min(r.Away) < 0 {
			return false
		}
	}
	for _, list := range c.Choices {
		for _, c := range list {
			if !aView(c.View) || slices.ContainsFunc(c.Distance, func(d float64) bool { return !(math.Abs(d) <= farthestMove) }) {
				return false
			}
		}
	}
	return true
}

// farthestMove is more than a mover is ever drawn from its seat, in mm.
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

// Bytes is the content of the cache's file: the pictures asked for since it was read and
// no others, so that it does not grow without end.
func (c *Cache) Bytes() ([]byte, error) {
	var packed bytes.Buffer
	z, err := zlib.NewWriterLevel(&packed, zlib.BestSpeed)
	if err != nil {
		return nil, err
	}
	if err := gob.NewEncoder(z).Encode(c.is); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	s := sum(packed.Bytes())
	return append(append([]byte(cacheHead()+"\n"), s[:]...), packed.Bytes()...), nil
}

// Changed reports whether pictures were added, or are no longer asked for.
func (c *Cache) Changed() bool {
	return !sameKeys(c.was.Renderings, c.is.Renderings) || !sameKeys(c.was.Choices, c.is.Choices) || !sameKeys(c.was.Portraits, c.is.Portraits)
}

func sameKeys[V any](a, b map[string]V) bool {
	return maps.EqualFunc(a, b, func(V, V) bool { return true })
}

// kept looks a result up, and keeps it for the next time.
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
