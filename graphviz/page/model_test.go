package page

import "dryfit/plan"

// ModelOf is the model of a project without its meshes, for tests from outside.
func ModelOf(p *plan.Project) *Model { return newModel(p, nil, grains{}) }
