// Package format reads the YAML files that people write for dryfit, strictly.
//
// A format is a table of fields: for each key its [Shape], where its value goes and what
// it means. The reader, the JSON Schema and the reference are all made from that table, so
// they cannot disagree. What is wrong with a file is collected as [Faults], each with
// line and column and what to do about it.
//
// The package knows no keys. Those of a kit file are in package kits.
package format
