package precedence_test

import (
	"fmt"

	"dryfit/plan/precedence"
)

// A cube sits between the two halves of a shell: it has to be in before both
// halves are on.
func Example() {
	const lower, cube, upper = 0, 1, 2
	names := []string{"lower half", "cube", "upper half"}

	s := precedence.New(len(names))
	s.Clause(cube, []int{lower, upper}, 1)
	order, _ := s.Order(nil)
	for _, v := range order {
		fmt.Println(names[v])
	}
	c, err := s.CountOrders(100)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("possible orders:", c.Orders)

	// Glue that has to dry asks for both halves first.
	s.Need(lower, cube, 2)
	s.Need(upper, cube, 3)
	for _, root := range s.Roots() {
		for _, v := range root.Steps {
			fmt.Println("stuck:", names[v])
		}
		fmt.Println("statements in conflict:", s.Conflict(root))
	}

	// Output:
	// lower half
	// cube
	// upper half
	// possible orders: 4
	// stuck: lower half
	// stuck: cube
	// stuck: upper half
	// statements in conflict: [1 2 3]
}
