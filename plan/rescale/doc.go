// Package rescale tells what becomes of a kit at another scale: what no longer fits a
// printer, what becomes too thin, what is bought for its size and no longer suits its
// place, and whether the order still holds.
//
// Lengths are mm. Everything printed scales about the origin of the model; parts of
// fixed size keep their size and stand with their middle at the scaled place. The same
// request gives the same report.
//
// Not looked at: whether a piece of fixed size leaves its pocket by the mouth that
// nothing covers, the blocking of pieces by others of fixed size beyond the rooms
// measured (see [Seat]), places and volumes that a kit tells in notes, and strength.
package rescale
