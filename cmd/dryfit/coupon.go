package main

import (
	"bytes"
	"errors"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/kits"
	"dryfit/kits/atomicfile"
	"dryfit/kits/mesh/threemf"
	"dryfit/kits/stopping"
	"dryfit/plan/coupon"
)

// writeCoupon writes the test print with the fits of a kit, and says what is on it.
func (o *printingOptions) writeCoupon(path string) error {
	if o.out != "" || o.json || o.cmd.Flags().Changed("format") {
		return errors.New("--coupon writes one file and says what is on it; leave --out, --format and --json out")
	}
	kit, err := stopping.Soon(o.cmd.Context(), func() (*kits.Kit, error) { return kits.ReadFile(path) })
	if err != nil {
		return err
	}
	list, err := coupon.Make(kit)
	if err != nil {
		return err
	}
	if list == nil {
		return errors.New("the kit prints nothing, so there are no fits to try")
	}
	var b bytes.Buffer
	if err := coupon.Write(&b, list); err != nil {
		return err
	}
	if err := atomicfile.Write(o.coupon, b.Bytes(), o.force, threemf.Ours); err != nil {
		return err
	}
	return document.WriteText(o.cmd.OutOrStdout(), report.Coupon(kit, list, o.coupon))
}
