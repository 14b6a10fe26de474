package mesh

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"sync"

	"github.com/zeebo/xxh3"
)

// stlChunk is how many triangles of a binary file are measured at a time. Chunks
// are hashed by themselves and the hashes hashed, so that several goroutines can
// share a file and the result does not depend on how they did.
const stlChunk = 65536

// stlPiece is how many triangles are decoded at a time: their bytes and their
// numbers stay in the processor's cache.
const stlPiece = 512

// binarySTL reads triangles of a binary file when they are wanted.
type binarySTL struct {
	in    input
	count int
	unit  float64
}

func (s *binarySTL) len() int { return s.count }

func (s *binarySTL) read(i int, buf []Triangle) error {
	if err := s.decode(i, buf); err != nil {
		return fmt.Errorf("%s: %w", plain(s.in.file), err)
	}
	return nil
}

func (s *binarySTL) decode(i int, buf []Triangle) error {
	f, err := s.in.open()
	if err != nil {
		return err
	}
	defer f.Close()
	raw := rawPool.Get().(*[stlRecord * BlockSize]byte)
	defer rawPool.Put(raw)
	for len(buf) > 0 {
		n := min(len(buf), BlockSize)
		if err := readRecords(f, i, raw[:stlRecord*n]); err != nil {
			return err
		}
		decodeSTL(raw[:stlRecord*n], buf[:n], s.unit)
		i, buf = i+n, buf[n:]
	}
	return nil
}

var rawPool = sync.Pool{New: func() any { return new([stlRecord * BlockSize]byte) }}

// readRecords fills raw with records from the i-th on.
func readRecords(f io.ReaderAt, i int, raw []byte) error {
	n, err := f.ReadAt(raw, stlHead+stlRecord*int64(i))
	switch {
	case n == len(raw):
		return nil
	case errors.Is(err, io.EOF):
		return errors.New("became shorter while it was being measured; run again")
	}
	return err
}

// decodeSTL turns records into triangles. The normals are left out: they follow
// from the corners, and exporters often get them wrong.
func decodeSTL(raw []byte, buf []Triangle, unit float64) {
	for i := range buf {
		b := raw[stlRecord*i : stlRecord*i+stlRecord : len(raw)]
		t := &buf[i]
		t[0][0] = math.Float32frombits(binary.LittleEndian.Uint32(b[12:]))
		t[0][1] = math.Float32frombits(binary.LittleEndian.Uint32(b[16:]))
		t[0][2] = math.Float32frombits(binary.LittleEndian.Uint32(b[20:]))
		t[1][0] = math.Float32frombits(binary.LittleEndian.Uint32(b[24:]))
		t[1][1] = math.Float32frombits(binary.LittleEndian.Uint32(b[28:]))
		t[1][2] = math.Float32frombits(binary.LittleEndian.Uint32(b[32:]))
		t[2][0] = math.Float32frombits(binary.LittleEndian.Uint32(b[36:]))
		t[2][1] = math.Float32frombits(binary.LittleEndian.Uint32(b[40:]))
		t[2][2] = math.Float32frombits(binary.LittleEndian.Uint32(b[44:]))
	}
	if unit != 1 {
		scaleAll(buf, unit)
	}
}

func scaleAll(buf []Triangle, unit float64) {
	for i := range buf {
		for c := range buf[i] {
			for k, v := range buf[i][c] {
				buf[i][c][k] = float32(float64(v) * unit)
			}
		}
	}
}

func readBinarySTL(f io.ReaderAt, in input, count int, o Options) ([]*Mesh, error) {
	switch {
	case count == 0:
		return nil, nil
	case count > MaxTriangles:
		return nil, fmt.Errorf("holds %d triangles, more than %d, the most a file may have; make the mesh coarser", count, MaxTriangles)
	}
	s := &binarySTL{in, count, o.unit()}
	m := &Mesh{src: s}
	if err := s.measure(f, m); err != nil {
		return nil, err
	}
	again, err := in.open() // says if the file was changed meanwhile
	if err != nil {
		return nil, err
	}
	return []*Mesh{m}, again.Close()
}

// chunk is what was found in one chunk of a file.
type chunk struct {
	tally
	hash Hash
	err  error
}

// measure goes through the file once, with two goroutines.
func (s *binarySTL) measure(f io.ReaderAt, m *Mesh) error {
	var first [stlRecord]byte
	if err := readRecords(f, 0, first[:]); err != nil {
		return err
	}
	var corner [1]Triangle
	decodeSTL(first[:], corner[:], s.unit)

	chunks := make([]chunk, (s.count+stlChunk-1)/stlChunk)
	each(len(chunks), func(i int) {
		c := &chunks[i]
		c.tally = newTally(corner[0][0])
		c.tally.count = i * stlChunk // so that errors name the right triangle
		c.err = s.measureChunk(f, c, min(stlChunk, s.count-i*stlChunk))
	})
	d := newDigest("stl binary")
	d.real(s.unit)
	d.number(uint64(s.count))
	total := newTally(corner[0][0])
	for i := range chunks {
		if err := chunks[i].err; err != nil {
			return err
		}
		total.join(&chunks[i].tally)
		d.Write(chunks[i].hash[:])
	}
	m.Shape, m.Turned = total.shape()
	m.Hash = d.sum()
	return nil
}

// measureChunk measures n triangles from number c.count on.
func (s *binarySTL) measureChunk(f io.ReaderAt, c *chunk, n int) error {
	raw := chunkPool.Get().(*[stlRecord * stlChunk]byte)
	defer chunkPool.Put(raw)
	if err := readRecords(f, c.count, raw[:stlRecord*n]); err != nil {
		return err
	}
	c.hash = xxh3.Hash128(raw[:stlRecord*n]).Bytes()
	var buf [stlPiece]Triangle
	for i := 0; i < n; i += stlPiece {
		part := buf[:min(stlPiece, n-i)]
		decodeSTL(raw[stlRecord*i:stlRecord*n], part, s.unit)
		if err := c.add(part); err != nil {
			return err
		}
	}
	return nil
}

var chunkPool = sync.Pool{New: func() any { return new([stlRecord * stlChunk]byte) }}
