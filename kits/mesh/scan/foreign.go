package scan

import (
	"bytes"
	"fmt"
)

// SkipMark cuts the UTF-8 byte order mark off the head of a file.
func SkipMark(head []byte) []byte { return bytes.TrimPrefix(head, []byte("\xEF\xBB\xBF")) }

// Foreign says what a file is if it is text in another encoding, or not text.
// Empty means that it may be text.
func Foreign(head []byte) string {
	switch {
	case bytes.HasPrefix(head, []byte("\xFF\xFE")), bytes.HasPrefix(head, []byte("\xFE\xFF")):
		return "is text in UTF-16, which is not supported; save it as plain text (UTF-8)"
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		return "is a zip archive, as 3MF files are; give it the ending .3mf, or unpack it"
	case bytes.HasPrefix(head, []byte("\x1F\x8B")):
		return "is compressed; unpack it first"
	}
	if zero := bytes.IndexByte(head, 0); zero >= 0 {
		return fmt.Sprintf("is not text: byte %d is zero", zero)
	}
	return ""
}
