// Package coincident finds meshes that stand in the same place, as they do when a program
// saved every part about its own origin instead of where it belongs in the model.
//
// Candidates come from boxes and volumes alone, so that a model without any costs next to
// nothing: meshes of one shape in one box, and meshes of any shape whose boxes have a
// point in common at which programs put the origin. Neither proves anything: nested
// shells share a centre, and two strands of a rope share box and volume. So points within
// a few of the solids are then tried against the others.
package coincident
