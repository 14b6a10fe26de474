package drafttest

import (
	"fmt"

	"dryfit/kits/mesh/meshtest"
)

// vehicle is a van: a body open below, and a floor with all that stands on it, which
// goes in from below and is held by four screws.
func vehicle() Model {
	p := parts{}
	p.carve("body", block(0, 180, -36, 36, 0, 70), cut(2.5, 177.5, -33.5, 33.5, -1, 67.5),
		cut(60, 100, -37, -33, 36, 58), cut(60, 100, 33, 37, 36, 58), cut(-1, 3, -24, 24, 38, 60))
	p.carve("floor", block(2.7, 177.3, -33.3, 33.3, 0, 3), cut(45, 49, -29, -25, -1, 4), cut(45, 49, 25, 29, -1, 4),
		cut(131, 135, -29, -25, -1, 4), cut(131, 135, 25, 29, -1, 4))
	p.box("firewall", 52, 54, -33.2, 33.2, 3, 67)
	p.box("engine", 14, 44, -14, 14, 3, 30)
	p.box("battery", 16, 30, 17, 30, 3, 18)
	p.box("air-filter", 20, 34, -10, 10, 30, 38)
	p.copies("seat", 2, [3]float64{0, -34, 0}, meshtest.Carved(block(74, 92, 6, 28, 3, 16), block(88, 92, 6, 28, 16, 40)))
	p.copies("bench", 2, [3]float64{40, 0, 0}, meshtest.Carved(block(110, 126, -26, 26, 3, 16)))
	p.box("dashboard", 54, 62, -30, 30, 24, 36)
	p.box("wheel-column", 62, 72, 14, 18, 28, 32)
	p.carve("steering-wheel", block(72, 74, 9, 23, 23, 37))
	p.sides("window", block(62, 98, 31.5, 33.5, 34, 60), block(62.2, 97.8, 33.5, 36, 36.2, 57.8))
	p.carve("windscreen", block(2.5, 4.5, -28, 28, 35, 63), block(0, 2.5, -23.8, 23.8, 38.2, 59.8))
	p.box("roof-lining", 66, 176, -30, 30, 65.5, 67.5)
	p.copies("axle", 2, [3]float64{120, 0, 0}, meshtest.Carved(block(28, 32, -22, 22, -6, 0)))
	for i, at := range [][2]float64{{18, 22}, {138, 22}, {18, -34}, {138, -34}} {
		p.box(fmt.Sprintf("road-wheel.%d", i+1), at[0], at[0]+24, at[1], at[1]+12, -16, -0.5)
	}
	p.box("bumper-front", -5, 0, -34, 34, 4, 14)
	p.box("bumper-rear", 180, 185, -34, 34, 4, 14)
	p.sides("head-lamp", block(-3, 0, 18, 30, 20, 30))
	p.sides("tail-lamp", block(180, 182, 24, 32, 22, 34))
	p.sides("mirror", block(56, 60, 36, 44, 36, 44))
	p.box("roof-rack", 80, 150, -28, 28, 70, 76)
	for i, at := range [][2]float64{{47, 27}, {133, 27}, {47, -27}, {133, -27}} {
		x, y := at[0], at[1]
		p.carve(fmt.Sprintf("screw.%d", i+1), block(x-1.8, x+1.8, y-1.8, y+1.8, -1, 3), block(x-3, x+3, y-3, y+3, -3, -1))
	}
	return Model{"vehicle", vehicleKit, p}
}

const vehicleKit = `kit: Van
meshes: parts
parts:
  body: {}
  floor: {}
  firewall: {}
  engine: {}
  battery: {}
  air-filter: {}
  seat: {quantity: 2}
  bench: {quantity: 2}
  dashboard: {}
  wheel-column: {}
  steering-wheel: {}
  window-port: {pair: window-starboard}
  window-starboard: {}
  windscreen: {}
  roof-lining: {}
  axle: {quantity: 2}
  road-wheel: {quantity: 4}
  bumper-front: {}
  bumper-rear: {}
  head-lamp-port: {}
  head-lamp-starboard: {}
  tail-lamp-port: {}
  tail-lamp-starboard: {}
  mirror-port: {}
  mirror-starboard: {}
  roof-rack: {}
  screw: {quantity: 4}
joins:
  - {fit: firewall, to: floor, toward: [0, 0, -1]}
  - {fit: engine, to: floor, toward: [0, 0, -1]}
  - {fit: air-filter, to: engine, toward: [0, 0, -1]}
  - {fit: battery, to: floor, toward: [0, 0, -1]}
  - {fit: seat, to: floor, toward: [0, 0, -1]}
  - {fit: bench, to: floor, toward: [0, 0, -1]}
  - {fit: dashboard, to: firewall, toward: [-1, 0, 0]}
  - {fit: wheel-column, to: dashboard, toward: [-1, 0, 0]}
  - {fit: steering-wheel, to: wheel-column, toward: [-1, 0, 0]}
  - {fit: window-port, to: body, toward: [0, -1, 0]}
  - {fit: window-starboard, to: body, toward: [0, 1, 0]}
  - {fit: windscreen, to: body, toward: [-1, 0, 0]}
  - {fit: roof-lining, to: body, toward: [0, 0, 1]}
  - {fit: floor, to: body, bench: true, toward: [0, 0, 1], step: floor-closing}
  - {fit: screw, to: floor, with: screw, toward: [0, 0, 1], after: [floor-closing]}
  - {fit: axle, to: floor, toward: [0, 0, 1]}
  - {fit: road-wheel.1, to: axle.1}
  - {fit: road-wheel.3, to: axle.1}
  - {fit: road-wheel.2, to: axle.2}
  - {fit: road-wheel.4, to: axle.2}
  - {fit: bumper-front, to: body, toward: [1, 0, 0]}
  - {fit: bumper-rear, to: body, toward: [-1, 0, 0]}
  - {fit: head-lamp-port, to: body, toward: [1, 0, 0]}
  - {fit: head-lamp-starboard, to: body, toward: [1, 0, 0]}
  - {fit: tail-lamp-port, to: body, toward: [-1, 0, 0]}
  - {fit: tail-lamp-starboard, to: body, toward: [-1, 0, 0]}
  - {fit: mirror-port, to: body, toward: [0, 1, 0]}
  - {fit: mirror-starboard, to: body, toward: [0, -1, 0]}
  - {fit: roof-rack, to: body, toward: [0, 0, -1]}
spaces:
  cabin:
    closed-by: [body, {piece: floor, opening: [174, 66], facing: z}]
    holds: [seat, bench, dashboard, wheel-column, steering-wheel, window-port, window-starboard, roof-lining, firewall]
  engine-bay:
    closed-by: [body, {piece: floor, opening: [174, 66], facing: z}]
    holds: [engine, battery, air-filter, windscreen]
`
