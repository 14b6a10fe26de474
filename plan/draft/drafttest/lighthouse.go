package drafttest

import (
	"fmt"
	"math"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// lighthouse is a tower of two shells on a plinth. Its three storeys stand between them:
// each has a floor, a column, and four steps of the stair that winds up around it
// through an opening in the floor above.
func lighthouse() Model {
	p := parts{}
	p["plinth"] = meshtest.Merge(round(52, 0, -12, 0))
	p["shell-left"] = halfRing(40, 37, 0, 180, 1)
	p["shell-right"] = halfRing(40, 37, 0, 180, -1)
	for i := range 3 {
		low := 60 * float64(i)
		p[fmt.Sprintf("floor.%d", i+1)] = storeyFloor(low)
		p[fmt.Sprintf("column.%d", i+1)] = round(4, 0, low+3, low+60)
		for k := range 4 {
			p[fmt.Sprintf("tread.%d", 4*i+k+1)] = tread(k, low+3)
		}
	}
	p.box("stove", -25, -11, -24, -12, 3, 28)
	p.box("barrel", -10, 0, -32, -20, 3, 16)
	p.box("table", -24, -8, -26, -12, 63, 76)
	p.box("lamp-on-table", -18, -14, -21, -17, 76, 84)
	p.box("bed", -30, -6, -20, -6, 123, 131)
	p.box("chest", -10, 2, -33, -22, 123, 132)
	p["gallery"] = ring(48, 3, 180, 184)
	p["lantern"] = ring(22, 20, 184, 214)
	p["lamp"] = round(8, 0, 184, 204)
	p["roof"] = round(25, 0, 214, 222)
	p["vane"] = round(1.5, 0, 222, 236)
	p.box("door", 40, 43, -8, 8, 0, 32)
	return Model{"lighthouse", lighthouseKit, p}
}

const segments = 48

// round is a cylinder about the z axis; ring has a hole.
func round(r, off, z0, z1 float64) []mesh.Triangle {
	return meshtest.Prism(meshtest.Circle([2]float64{off, 0}, r, segments), z0, z1)
}

func ring(outer, inner, z0, z1 float64) []mesh.Triangle {
	return meshtest.Extrude(meshtest.Circle([2]float64{}, outer, segments), [][][2]float64{meshtest.Circle([2]float64{}, inner, segments)}, z0, z1)
}

// halfRing is the half of a tube on the side of y that sign says.
func halfRing(outer, inner, z0, z1, sign float64) []mesh.Triangle {
	var outline [][2]float64
	for i := range segments/2 + 1 {
		a := math.Pi * float64(i) / (segments / 2)
		outline = append(outline, [2]float64{outer * math.Cos(a), sign * outer * math.Sin(a)})
	}
	for i := segments / 2; i >= 0; i-- {
		a := math.Pi * float64(i) / (segments / 2)
		outline = append(outline, [2]float64{inner * math.Cos(a), sign * inner * math.Sin(a)})
	}
	return meshtest.Prism(outline, z0, z1)
}

// storeyFloor is a disc, just smaller than the shells, with an opening for the stair.
func storeyFloor(z float64) []mesh.Triangle {
	hole := [][2]float64{{6, 2}, {28, 2}, {28, 22}, {6, 22}}
	return meshtest.Extrude(meshtest.Circle([2]float64{}, 36.8, segments), [][][2]float64{hole}, z, z+3)
}

// tread is a step of the stair, a sector around the column.
func tread(number int, z float64) []mesh.Triangle {
	from := math.Pi/2*float64(number) + 0.1
	var outline [][2]float64
	for i := range 7 {
		a := from + 1.2*float64(i)/6
		outline = append(outline, [2]float64{4.1 * math.Cos(a), 4.1 * math.Sin(a)})
	}
	for i := 6; i >= 0; i-- {
		a := from + 1.2*float64(i)/6
		outline = append(outline, [2]float64{18 * math.Cos(a), 18 * math.Sin(a)})
	}
	low := z + 12*float64(number+1)
	return meshtest.Prism(outline, low-3, low)
}

const lighthouseKit = `kit: Lighthouse
meshes: parts
parts:
  plinth: {}
  shell-left: {pair: shell-right}
  shell-right: {}
  floor: {quantity: 3}
  column: {quantity: 3}
  tread: {quantity: 12}
  stove: {}
  barrel: {}
  table: {}
  lamp-on-table: {}
  bed: {}
  chest: {}
  gallery: {}
  lantern: {}
  lamp: {}
  roof: {}
  vane: {}
  door: {}
joins:
  - {fit: column.1, to: floor.1, toward: [0, 0, -1]}
  - {fit: column.2, to: floor.2, toward: [0, 0, -1]}
  - {fit: column.3, to: floor.3, toward: [0, 0, -1]}
  - {fit: tread.1, to: column.1}
  - {fit: tread.2, to: column.1}
  - {fit: tread.3, to: column.1}
  - {fit: tread.4, to: column.1}
  - {fit: tread.5, to: column.2}
  - {fit: tread.6, to: column.2}
  - {fit: tread.7, to: column.2}
  - {fit: tread.8, to: column.2}
  - {fit: tread.9, to: column.3}
  - {fit: tread.10, to: column.3}
  - {fit: tread.11, to: column.3}
  - {fit: tread.12, to: column.3}
  - {fit: stove, to: floor.1, toward: [0, 0, -1]}
  - {fit: barrel, to: floor.1, toward: [0, 0, -1]}
  - {fit: table, to: floor.2, toward: [0, 0, -1]}
  - {fit: lamp-on-table, to: table, toward: [0, 0, -1]}
  - {fit: bed, to: floor.3, toward: [0, 0, -1]}
  - {fit: chest, to: floor.3, toward: [0, 0, -1]}
  - {fit: floor.1, to: shell-left, bench: true, toward: [0, 1, 0]}
  - {fit: floor.2, to: shell-left, bench: true, toward: [0, 1, 0]}
  - {fit: floor.3, to: shell-left, bench: true, toward: [0, 1, 0]}
  - {close: [shell-left, shell-right], step: closing}
  - {fit: plinth, to: [shell-left, shell-right], toward: [0, 0, 1]}
  - {fit: gallery, to: [shell-left, shell-right], toward: [0, 0, -1]}
  - {fit: lamp, to: gallery, toward: [0, 0, -1]}
  - {fit: lantern, to: gallery, toward: [0, 0, -1]}
  - {fit: roof, to: lantern, toward: [0, 0, -1]}
  - {fit: vane, to: roof, toward: [0, 0, -1]}
  - {fit: door, to: [shell-left, shell-right], toward: [-1, 0, 0]}
spaces:
  ground-room: {closed-by: [shell-left, shell-right], holds: [column.1, tread.1, tread.2, tread.3, tread.4, stove, barrel]}
  middle-room: {closed-by: [shell-left, shell-right], holds: [column.2, tread.5, tread.6, tread.7, tread.8, table, lamp-on-table]}
  top-room: {closed-by: [shell-left, shell-right, gallery], holds: [column.3, tread.9, tread.10, tread.11, tread.12, bed, chest]}
  lantern-room: {closed-by: [lantern, roof], holds: [lamp]}
`
