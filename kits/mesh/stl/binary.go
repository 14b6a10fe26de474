package stl

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"sync"

	"github.com/zeebo/xxh3"
	"golang.org/x/sync/errgroup"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/scan"
	"dryfit/kits/plain"
)

// MaxTriangles is the largest number of triangles in a binary file.
const MaxTriangles = 200_000_000

// chunkSize is how many triangles of a binary file are measured at a time. Chunks
// are hashed separately and the hashes hashed, so that several goroutines can
// share a file and the result does not depend on how.
const chunkSize = 65536

// pieceSize is how many triangles are decoded at a time: their bytes and their
// numbers stay in the processor's cache.
const pieceSize = 512

// binaryFile reads triangles of a binary file on demand.
type binaryFile struct {
	in    scan.File
	count int
	unit  float64
}

func (s *binaryFile) Len() int { return s.count }

func (s *binaryFile) Read(i int, buf []mesh.Triangle) error {
	open, file, err := s.Open()
	if err != nil {
		return err
	}
	defer file.Close()
	return open.Read(i, buf)
}

func (s *binaryFile) Open() (mesh.Source, io.Closer, error) {
	f, err := s.in.Open()
	if err != nil {
		return nil, nil, s.failed(err)
	}
	return &openFile{s, f}, f, nil
}

func (s *binaryFile) failed(err error) error {
	return fmt.Errorf("%s: %w", plain.Text(s.in.Name), err)
}

// openFile reads triangles of a binary file that is open.
type openFile struct {
	*binaryFile
	file io.ReaderAt
}

func (s *openFile) Read(i int, buf []mesh.Triangle) error {
	raw := rawPool.Get().(*[recordSize * mesh.BlockSize]byte)
	defer rawPool.Put(raw)
	for len(buf) > 0 {
		n := min(len(buf), mesh.BlockSize)
		if err := readRecords(s.file, i, raw[:recordSize*n]); err != nil {
			return s.failed(err)
		}
		decodeAll(raw[:recordSize*n], buf[:n], s.unit)
		i, buf = i+n, buf[n:]
	}
	return nil
}

var rawPool = sync.Pool{New: func() any { return new([recordSize * mesh.BlockSize]byte) }}

// readRecords fills raw with records from the i-th on.
func readRecords(f io.ReaderAt, i int, raw []byte) error {
	n, err := f.ReadAt(raw, headSize+recordSize*int64(i))
	switch {
	case n == len(raw):
		return nil
	case errors.Is(err, io.EOF):
		return errors.New("became shorter while it was being measured; run again")
	}
	return err
}

// decodeAll turns records into triangles. Normals are ignored: they follow from
// the corners, and exporters often get them wrong.
func decodeAll(raw []byte, buf []mesh.Triangle, unit float64) {
	for i := range buf {
		b := raw[recordSize*i : recordSize*i+recordSize : len(raw)]
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
		mesh.Scale(buf, unit)
	}
}

func readBinary(in scan.File, f io.ReaderAt, count int, unit float64) ([]*mesh.Mesh, error) {
	switch {
	case count == 0:
		return nil, nil
	case count > MaxTriangles:
		return nil, fmt.Errorf("holds %d triangles, more than %d, the limit; make the mesh coarser", count, MaxTriangles)
	}
	m, err := (&binaryFile{in, count, unit}).measure(f)
	if err != nil {
		return nil, err
	}
	again, err := in.Open() // an error if the file has changed meanwhile
	if err != nil {
		return nil, err
	}
	return []*mesh.Mesh{m}, again.Close()
}

// chunk is what was found in one chunk of a file.
type chunk struct {
	mesh.Tally
	hash mesh.Hash
	err  error
}

// measure reads the file once, with two goroutines.
func (s *binaryFile) measure(f io.ReaderAt) (*mesh.Mesh, error) {
	var first [recordSize]byte
	if err := readRecords(f, 0, first[:]); err != nil {
		return nil, err
	}
	var corner [1]mesh.Triangle
	decodeAll(first[:], corner[:], s.unit)

	chunks := make([]chunk, (s.count+chunkSize-1)/chunkSize)
	var all errgroup.Group
	all.SetLimit(2)
	for i := range chunks {
		all.Go(func() error {
			c, at := &chunks[i], i*chunkSize
			c.Tally = mesh.NewTally(corner[0][0], at)
			c.err = s.measureChunk(f, c, at, min(chunkSize, s.count-at))
			return nil
		})
	}
	_ = all.Wait() // the first error in the file is the one to report
	d := mesh.NewDigest("stl binary")
	d.Real(s.unit)
	d.Number(uint64(s.count))
	total := mesh.NewTally(corner[0][0], 0)
	for i := range chunks {
		if err := chunks[i].err; err != nil {
			return nil, err
		}
		total.Join(&chunks[i].Tally)
		d.Write(chunks[i].hash[:])
	}
	return mesh.Measured("", s, &total, d.Sum()), nil
}

// measureChunk measures n triangles from the one numbered at.
func (s *binaryFile) measureChunk(f io.ReaderAt, c *chunk, at, n int) error {
	raw := chunkPool.Get().(*[recordSize * chunkSize]byte)
	defer chunkPool.Put(raw)
	if err := readRecords(f, at, raw[:recordSize*n]); err != nil {
		return err
	}
	c.hash = xxh3.Hash128(raw[:recordSize*n]).Bytes()
	var buf [pieceSize]mesh.Triangle
	for i := 0; i < n; i += pieceSize {
		part := buf[:min(pieceSize, n-i)]
		decodeAll(raw[recordSize*i:recordSize*n], part, s.unit)
		if err := c.Add(part); err != nil {
			return err
		}
	}
	return nil
}

var chunkPool = sync.Pool{New: func() any { return new([recordSize * chunkSize]byte) }}
