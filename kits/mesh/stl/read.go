package stl

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/scan"
)

// Sizes in a binary file, in bytes.
const (
	headSize   = 84
	recordSize = 50 // of a triangle
)

// Read reads an open STL file. unit is the mm per unit of the file.
//
// Both kinds may start with "solid", so the size decides: a binary file has 84
// bytes plus 50 for each triangle that it announces.
func Read(in scan.File, f *io.SectionReader, unit float64) ([]*mesh.Mesh, error) {
	head, err := scan.Head(f)
	if err != nil {
		return nil, err
	}
	switch count, ok := announced(head); {
	case ok && in.Size == headSize+recordSize*count:
		return readBinary(in, f, int(count), unit)
	case scan.Foreign(head) == "" && startsSolid(head):
		return readText(f, unit)
	default:
		return nil, notSTL(head, in.Size, count)
	}
}

// announced is the number of triangles in the head of a binary file.
func announced(head []byte) (count int64, ok bool) {
	if len(head) < headSize {
		return 0, false
	}
	return int64(binary.LittleEndian.Uint32(head[80:])), true
}

func startsSolid(head []byte) bool {
	first, _ := scan.Word(bytes.TrimLeft(scan.SkipMark(head), "\r\n\t "))
	if i := bytes.IndexAny(first, "\r\n"); i >= 0 {
		first = first[:i]
	}
	return scan.Is(first, "solid")
}

// notSTL says what is wrong with a file that is neither kind.
func notSTL(head []byte, size, count int64) error {
	other := scan.Foreign(head)
	switch {
	case other != "" && head[0] != 0 && bytes.IndexByte([]byte("\xFF\xFEP\x1F"), head[0]) >= 0:
		return errors.New(other)
	case len(head) < headSize:
		return fmt.Errorf("is not an STL file: it has only %d bytes and does not begin with the word solid", size)
	case other == "":
		return fmt.Errorf("is not an STL file: it does not begin with the word solid, and as a binary file it would have %d triangles, so %d bytes, but it has %d", count, headSize+recordSize*count, size)
	}
	is := "was probably truncated"
	if size > headSize+recordSize*count {
		is = "has extra bytes"
	}
	return fmt.Errorf("the binary file should have %d triangles, so %d bytes, but has %d: it %s; export it again", count, headSize+recordSize*count, size, is)
}
