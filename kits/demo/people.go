package demo

// Figures. Each is a handful of limbs blended into one body; boots, knees and
// seats are cut flat where they meet the model.

// figure is a person by joints. Left and right are in turn: hips, knees, ankles,
// toes, shoulders, elbows, hands.
type figure struct {
	pelvis, chest, head   vec
	hip, knee, ankle, toe [2]vec
	shoulder, elbow, hand [2]vec
	helmet                bool
}

func (f figure) field() field {
	limbs := []field{
		limb(f.pelvis, f.pelvis.Toward(f.chest, 0.45), 3.9, 3.6),
		limb(f.pelvis.Toward(f.chest, 0.45), f.chest, 3.6, 4.1),
		limb(f.shoulder[0].Toward(f.shoulder[1], 0.16), f.shoulder[0].Toward(f.shoulder[1], 0.84), 2.6, 2.6),
		limb(f.chest, f.head, 2.2, 1.8),
	}
	for n := range 2 {
		limbs = append(limbs,
			limb(f.hip[n], f.knee[n], 2.7, 2.1),
			limb(f.knee[n], f.ankle[n], 2.1, 1.5),
			limb(f.ankle[n], f.toe[n], 1.6, 1.3),
			limb(f.shoulder[n], f.elbow[n], 2.1, 1.6),
			limb(f.elbow[n], f.hand[n].Toward(f.elbow[n], 0.18), 1.6, 1.2),
			ball(f.hand[n], 1.4))
	}
	return all(blend(1.1, limbs...), f.face())
}

// face is the head with its nose and chin, and a helmet or a headset.
func (f figure) face() field {
	ahead := f.toe[0].Plus(f.toe[1]).Minus(f.ankle[0].Plus(f.ankle[1]))
	ahead[2] = 0
	if f.helmet {
		ahead = f.hand[0].Plus(f.hand[1]).Times(0.5).Minus(f.head)
		ahead[2] = 0
	}
	ahead = ahead.Times(1 / ahead.Length())
	side := vec{-ahead[1], ahead[0], 0}
	at := func(a, s, z float64) vec { return f.head.Plus(ahead.Times(a)).Plus(side.Times(s)).Plus(vec{0, 0, z}) }
	head := blend(0.8, limb(at(0, 0, 0.6), at(0.5, 0, -1.4), 3.1, 2.3), limb(at(2.9, 0, -0.4), at(3.2, 0, -1), 0.4, 0.5))
	if f.helmet {
		return all(head, without(limb(at(-0.3, 0, 0.9), at(-0.4, 0, -0.4), 3.7, 3.5),
			cushion(at(6, 0, -2).Minus(vec{5.2, 5.2, 3.4}), at(6, 0, -2).Plus(vec{5.2, 5.2, 3.4}), 0.3)),
			limb(at(1.8, -3.0, 1.4), at(1.8, 3.0, 1.4), 0.9, 0.9))
	}
	return all(head, limb(at(0, -3.1, 0), at(0, 3.1, 0), 1.2, 1.2), limb(at(-0.2, 0, 1.1), at(-0.2, 0, 1), 3.25, 3.25))
}

func pilot() solid {
	at := func(x, y, z float64) vec { return vec{x, pilotMiddle + y, z} }
	body := figure{
		pelvis: at(96.4, 0, 44.6), chest: at(96.7, 0, 55.4), head: at(96.4, 0, 65.6),
		hip:      [2]vec{at(96, -2.7, 43.5), at(96, 2.7, 43.5)},
		knee:     [2]vec{at(86, -3.5, 44.2), at(86, 3.5, 44.2)},
		ankle:    [2]vec{at(82.5, -3.4, 31), at(82.5, 3.4, 31)},
		toe:      [2]vec{at(78.3, -3.6, 29.2), at(78.3, 3.6, 29.2)},
		shoulder: [2]vec{at(97, -5.9, 57.6), at(97, 5.9, 57.6)},
		elbow:    [2]vec{at(92.5, -7.5, 50.2), at(92.5, 7.5, 50.2)},
		hand:     [2]vec{at(79.2, -4, 47.6), at(79.2, 4, 47.6)},
	}.field()
	seat := cushion(at(88.8, -12, 20), at(110, 12, seatTop), 0)
	corner := cushion(at(99.8, -12, 20), at(110, 12, seatTop+1.2), 0) // of seat and back
	s := cast(without(body, seat, corner), at(76, -10, cockpitFloor), at(101, 10, 70), 0.65)
	top := s.bounds().Max // not stretched in height: the seat is where it is
	return fitted(s, at(77, -9, cockpitFloor), at(101, 9, top[2]))
}

func winchOperator() solid {
	body := figure{
		pelvis: at(209.5, -14.5, 35.5), chest: at(208.3, -15.5, 46), head: at(206.6, -16.6, 56),
		hip:      [2]vec{at(208, -12.6, 34), at(211, -16, 34)},
		knee:     [2]vec{at(204.6, -12.8, 25.5), at(209, -19.4, 25.5)},
		ankle:    [2]vec{at(207.6, -11.6, 17.4), at(211.6, -18.2, 17.4)},
		toe:      [2]vec{at(203.6, -12.8, 16.2), at(208.2, -21.4, 16.2)},
		shoulder: [2]vec{at(205.2, -10.6, 48.4), at(211.2, -19.2, 48.4)},
		elbow:    [2]vec{at(204.4, -9.4, 41), at(214.8, -20.6, 53.6)},
		hand:     [2]vec{at(201.2, -15, 37.6), at(213.6, -22, 60.4)},
		helmet:   true,
	}.field()
	s := cast(body, at(197, -27, soleTop), at(220, -5, 65), 0.65)
	return fitted(s.mapped(func(p vec) vec { return vec{-p[0], p[1], p[2]} }), at(121.2, -25, soleTop), at(139.2, -7, 62))
}

func medic() solid {
	at := func(x, y, z float64) vec { return vec{x, 2 + y, z} }
	body := figure{
		pelvis: at(205.6, 0, 25.5), chest: at(201.6, 0, 35.5), head: at(198.6, 0, 45.2),
		hip:      [2]vec{at(205.4, -2.7, 24.6), at(205.4, 2.7, 24.6)},
		knee:     [2]vec{at(199.4, -4, 17), at(199.4, 4, 17)},
		ankle:    [2]vec{at(208.4, -3.6, 16.6), at(208.4, 3.6, 16.6)},
		toe:      [2]vec{at(210.8, -3.6, 16), at(210.8, 3.6, 16)},
		shoulder: [2]vec{at(201.4, -5.9, 37.4), at(201.4, 5.9, 37.4)},
		elbow:    [2]vec{at(198.2, -7.6, 31.2), at(198.2, 7.6, 31.2)},
		hand:     [2]vec{at(193.4, -3.2, 34.4), at(193.4, 3, 36.4)},
		helmet:   true,
	}.field()
	s := cast(body, at(190, -11, soleTop), at(214, 11, 56), 0.65)
	return fitted(s.mapped(func(p vec) vec { return vec{-p[0], p[1], p[2]} }), at(122, -9, soleTop), at(142, 9, 53))
}

// stretcher carries the survivor, under a blanket up to the chest.
func stretcher() solid {
	const x, y, z = 149.0, 1.0, 35.0
	at := func(dx, dy, dz float64) vec { return vec{x + dx, y + dy, z + dz} }
	frame := all(
		limb(at(1, -8, 1.4), at(65, -8, 1.4), 1, 1), limb(at(1, 8, 1.4), at(65, 8, 1.4), 1, 1),
		cushion(at(4, -8, -0.4), at(62, 8, 2.2), 0.5))
	pillow := cushion(at(5, -4.6, 2), at(13, 4.6, 4.6), 1.2)
	person := blend(1,
		limb(at(10.4, 0, 8), at(11.6, 0, 7.6), 3.2, 2.6), // head
		limb(at(9.6, 0, 10.6), at(9.9, 0, 10.7), 0.5, 0.5),
		limb(at(17, 0, 6.4), at(30, 0, 6.2), 4, 3.8),
		limb(at(17, -5.2, 6.2), at(17, 5.2, 6.2), 2.3, 2.3),
		limb(at(17.5, -6, 5.4), at(26, -6.4, 5), 1.8, 1.5), limb(at(26, -6.4, 5), at(31, -2.6, 10), 1.5, 1.3),
		limb(at(17.5, 6, 5.4), at(26, 6.4, 5), 1.8, 1.5), limb(at(26, 6.4, 5), at(32, 2.6, 10), 1.5, 1.3))
	blanket := blend(2.5,
		limb(at(30, -2.6, 6), at(44, -3, 7), 3.6, 3), limb(at(30, 2.6, 6), at(44, 3, 7), 3.6, 3),
		limb(at(44, -3, 6.6), at(57, -3, 5.4), 3, 2.4), limb(at(44, 3, 6.6), at(57, 3, 5.4), 3, 2.4),
		limb(at(58, -3.2, 5.4), at(58.4, -3.4, 9.4), 2.2, 1.7), limb(at(58, 3.2, 5.4), at(58.4, 3.4, 9.4), 2.2, 1.7),
		cushion(at(29, -7.6, 1.4), at(61, 7.6, 3.4), 0.8))
	straps := all(
		cushion(at(22, -8.6, 0.6), at(24.4, 8.6, 3.6), 0.6), cushion(at(38, -8.4, 0.6), at(40, 8.4, 3.6), 0.6))
	top := all(limb(at(1.2, -8, 1.4), at(1.2, 8, 1.4), 0.9, 0.9), limb(at(64.8, -8, 1.4), at(64.8, 8, 1.4), 0.9, 0.9))
	return fitted(cast(all(frame, pillow, person, blanket, straps, top), at(-1, -10, 0), at(67, 10, 15), 0.75),
		at(0, -9, 0), at(66, 9, 14))
}

// fitted stretches a solid to just fill a box.
func fitted(s solid, from, to vec) solid {
	was := s.bounds()
	return s.mapped(func(p vec) vec {
		for k := range p {
			p[k] = between(from[k], to[k], (p[k]-was.Min[k])/(was.Max[k]-was.Min[k]))
		}
		return p
	})
}
