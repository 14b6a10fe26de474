// Package notices carries the licence texts and notices of all that is compiled into the
// program: every module, the Go library itself, fonts, and the C libraries within the
// drawing library. The text is gathered from the sources by its test.
package notices

import _ "embed"

// Text is the licences and notices, one after the other, each headed by what it is for.
//
//go:embed notices.txt
var Text string
