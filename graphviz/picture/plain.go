package picture

import "strings"

// Plain makes a text harmless to the text around it, and otherwise leaves it
// unchanged. Characters that change the writing direction (U+202A to U+202E,
// U+2066 to U+2069) are removed: left open they would also reverse the text that
// follows. Line ends of any kind become a newline. Other controls and
// noncharacters become U+FFFD, so that a reader sees that something was there.
func Plain(s string) string { return strings.Map(plain, s) }

func plain(r rune) rune {
	switch {
	case r == '\n' || r == '\t':
		return r
	case r == '\r' || r == '\v' || r == '\f':
		return ' '
	case r == 0x85 || r == 0x2028 || r == 0x2029:
		return '\n'
	case r < 0x20 || r >= 0x7f && r < 0xa0:
		return '\uFFFD'
	case r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069:
		return -1
	case r&0xfffe == 0xfffe || r >= 0xfdd0 && r <= 0xfdef: // noncharacters
		return '\uFFFD'
	}
	return r
}
