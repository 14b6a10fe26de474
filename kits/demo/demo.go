// Package demo holds the demonstration kit: an invented flying boat with a full
// interior, lights and removable hatches, and the code that shapes the meshes of its
// pieces. Everything about it is made up.
package demo

import _ "embed"

// Kit is the text of the kit file.
//
//go:embed kit.yaml
var Kit []byte
