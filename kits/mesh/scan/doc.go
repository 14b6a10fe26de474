// Package scan has what the readers of all mesh formats share: files that can be opened
// again, lines, words, numbers and names, and the limits that keep hostile files from
// taking all memory. What a file says is quoted in errors so that it cannot steer a
// terminal.
package scan
