package drafttest

import (
	"fmt"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// deckedHull is a cutter: a hull of one piece, two bulkheads, a deck in each of the three
// rooms with what stands on it, and the main deck over all with a hatch and a house.
func deckedHull() Model {
	p := parts{}
	p["hull"] = meshtest.Pocket(plan(240, 32), plan(237, 29.5), 0, 3, 56)
	for i, x := range []float64{78, 160} {
		p[fmt.Sprintf("bulkhead.%d", i+1)] = meshtest.Carved(block(x, x+2, -29.3, 29.3, 3, 52), cut(x-1, x+3, -6, 6, 20, 48))
	}
	p.box("engine-deck", 4, 77.8, -29.3, 29.3, 3, 6)
	p.box("saloon-deck", 80.2, 159.8, -29.3, 29.3, 3, 6)
	p["fore-deck"] = meshtest.Prism([][2]float64{{162.2, -29.2}, {190, -29.2}, {218, -12}, {218, 12}, {190, 29.2}, {162.2, 29.2}}, 3, 6)
	p.box("engine", 20, 56, -10, 10, 6, 30)
	p.sides("tank", block(14, 60, 15, 28, 6, 26))
	p.box("gearbox", 8, 20, -6, 6, 6, 20)
	p.box("saloon-table", 100, 130, -8, 8, 6, 20)
	p.sides("settee", block(96, 146, 16, 29, 6, 18))
	p.box("stove", 84, 94, 14, 28, 6, 30)
	p.sides("bunk", block(170, 200, 6, 18, 6, 16))
	p.box("chain-locker", 204, 214, -8, 8, 6, 26)
	p["main-deck"] = meshtest.Extrude(plan(236.6, 29.4), [][][2]float64{rectangle(176, 206, -12, 12)}, 52, 55)
	p.box("hatch-cover", 174, 208, -14, 14, 55, 58)
	p.carve("house", block(90, 150, -20, 20, 55, 84), cut(92, 148, -18, 18, 54, 85))
	p.box("house-roof", 87, 153, -23, 23, 84, 87)
	p.box("chart-table", 136, 147, -16, 2, 55, 68)
	p.box("pilot-seat", 100, 112, -6, 6, 55, 70)
	p.box("helm", 130, 134, 8, 14, 55, 72)
	p["mast"] = post(165, 0, 3, 55, 140)
	p["winch"] = post(222, 0, 5, 55, 63)
	for i, y := range []float64{18, -23} {
		for k, x := range []float64{14, 64} {
			p.box(fmt.Sprintf("bollard.%d", 1+2*i+k), x, x+5, y, y+5, 55, 62)
		}
	}
	p.sides("rail", block(22, 60, 27, 29, 55, 66))
	p.box("rudder", -14, 0, -2, 2, 4, 40)
	p.box("skeg", -6, 30, -3, 3, -8, 0)
	p.copies("cradle", 2, [3]float64{130, 0, 0}, meshtest.Carved(block(50, 58, -40, 40, -20, 0), cut(49, 59, -20, 20, -21, -10)))
	return Model{"hull", hullKit, p}
}

// plan is the outline of a hull of a length and half a beam, blunt at the stern.
func plan(length, half float64) [][2]float64 {
	stern := 240 - length
	return [][2]float64{{stern, -half}, {190, -half}, {length - 8, -half / 3}, {length, 0}, {length - 8, half / 3}, {190, half}, {stern, half}}
}

func rectangle(x0, x1, y0, y1 float64) [][2]float64 {
	return [][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

func post(x, y, r, z0, z1 float64) []mesh.Triangle {
	return meshtest.Prism(meshtest.Circle([2]float64{x, y}, r, 24), z0, z1)
}

const hullKit = `kit: Cutter
meshes: parts
parts:
  hull: {}
  bulkhead: {quantity: 2}
  engine-deck: {}
  saloon-deck: {}
  fore-deck: {}
  engine: {}
  tank-port: {pair: tank-starboard}
  tank-starboard: {}
  gearbox: {}
  saloon-table: {}
  settee-port: {pair: settee-starboard}
  settee-starboard: {}
  stove: {}
  bunk-port: {pair: bunk-starboard}
  bunk-starboard: {}
  chain-locker: {}
  main-deck: {}
  hatch-cover: {}
  house: {}
  house-roof: {}
  chart-table: {}
  pilot-seat: {}
  helm: {}
  mast: {}
  winch: {}
  bollard: {quantity: 4}
  rail-port: {pair: rail-starboard}
  rail-starboard: {}
  rudder: {}
  skeg: {}
  cradle: {quantity: 2}
joins:
  - {fit: bulkhead, to: hull, toward: [0, 0, -1]}
  - {fit: engine-deck, to: hull, bench: true, toward: [0, 0, -1]}
  - {fit: saloon-deck, to: hull, bench: true, toward: [0, 0, -1]}
  - {fit: fore-deck, to: hull, bench: true, toward: [0, 0, -1]}
  - {fit: engine, to: engine-deck, toward: [0, 0, -1]}
  - {fit: gearbox, to: engine-deck, toward: [0, 0, -1]}
  - {fit: tank-port, to: engine-deck, toward: [0, 0, -1]}
  - {fit: tank-starboard, to: engine-deck, toward: [0, 0, -1]}
  - {fit: saloon-table, to: saloon-deck, toward: [0, 0, -1]}
  - {fit: settee-port, to: saloon-deck, toward: [0, 0, -1]}
  - {fit: settee-starboard, to: saloon-deck, toward: [0, 0, -1]}
  - {fit: stove, to: saloon-deck, toward: [0, 0, -1]}
  - {fit: bunk-port, to: fore-deck, toward: [0, 0, -1]}
  - {fit: bunk-starboard, to: fore-deck, toward: [0, 0, -1]}
  - {fit: chain-locker, to: fore-deck, toward: [0, 0, -1]}
  - {fit: main-deck, to: hull, bench: true, toward: [0, 0, -1], step: deck-closing}
  - {fit: chart-table, to: main-deck, toward: [0, 0, -1]}
  - {fit: pilot-seat, to: main-deck, toward: [0, 0, -1]}
  - {fit: helm, to: main-deck, toward: [0, 0, -1]}
  - {fit: house, to: main-deck, toward: [0, 0, -1]}
  - {fit: house-roof, to: house, toward: [0, 0, -1]}
  - {fit: hatch-cover, to: main-deck, with: magnet, toward: [0, 0, -1]}
  - {fit: mast, to: main-deck, toward: [0, 0, -1]}
  - {fit: winch, to: main-deck, toward: [0, 0, -1]}
  - {fit: bollard, to: main-deck, toward: [0, 0, -1]}
  - {fit: rail-port, to: main-deck, toward: [0, 0, -1]}
  - {fit: rail-starboard, to: main-deck, toward: [0, 0, -1]}
  - {fit: rudder, to: hull, toward: [1, 0, 0]}
  - {fit: skeg, to: hull, toward: [0, 0, 1]}
  - {fit: cradle, to: hull, with: loose, toward: [0, 0, 1]}
spaces:
  engine-room: {closed-by: [main-deck], holds: [engine-deck, engine, gearbox, tank-port, tank-starboard]}
  saloon: {closed-by: [main-deck], holds: [saloon-deck, saloon-table, settee-port, settee-starboard, stove, bulkhead]}
  fore-cabin:
    closed-by:
      - main-deck
      - {piece: hatch-cover, opening: [28, 22], facing: z}
    holds: [fore-deck, bunk-port, bunk-starboard, chain-locker]
  house-inside: {closed-by: [house, house-roof], holds: [chart-table, pilot-seat, helm]}
`
