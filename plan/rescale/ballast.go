package rescale

import (
	"dryfit/kits"
	"dryfit/plan/balance"
)

// Ballast is the ballast that the model needs at both scales. It follows the masses: those
// of solid prints grow with the cube of the scale, those of hollow and bought parts do not.
type Ballast struct {
	Was, Now *balance.Result
}

// ballast works out the ballast at both scales.
func (r *Report) ballast() *Ballast {
	if r.Kit.Balance == nil || r.Kit.Balance.Ballast == nil {
		return nil
	}
	return &Ballast{balance.Of(r.Was), balance.Of(r.Now)}
}

// Known reports whether the ballast is known at the new scale.
func (b *Ballast) Known() bool { return b.Now.Known && b.Now.Placed && b.Now.Possible }

// unweighed is a kit for another scale without what was weighed at the present one, so
// that its balance goes by the estimate.
func unweighed(k *kits.Kit, s kits.Scaling) *kits.Kit {
	if k.Balance == nil || k.Balance.Weighed == nil || s.Factor == 1 {
		return k
	}
	out, b := *k, *k.Balance
	b.Weighed, out.Balance = nil, &b
	return &out
}
