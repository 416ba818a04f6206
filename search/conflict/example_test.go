package conflict_test

import (
	"context"
	"fmt"
	"slices"

	"lapwright/search/conflict"
)

// Nobody can be in the hall (0), in the garden (2) and in time for tea (3).
func ExampleFind() {
	oracle := func(_ context.Context, kept []int) (conflict.Answer, error) {
		for _, wish := range []int{0, 2, 3} {
			if !slices.Contains(kept, wish) {
				return conflict.Possible, nil
			}
		}
		return conflict.Impossible, nil
	}
	clash, err := conflict.Find(context.Background(), 5, oracle)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("clash:", clash.Members, "proven:", clash.Proven, "each is needed:", clash.Irreducible)
	// Output: clash: [0 2 3] proven: true each is needed: true
}

func ExampleLeast() {
	o, err := conflict.Least(context.Background(), 40, func(_ context.Context, more int) (conflict.Answer, error) {
		if 20+more >= 23 {
			return conflict.Possible, nil
		}
		return conflict.Impossible, nil
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d bars do, %d do not; proven: %t\n", 20+o.At, 20+o.Shut, o.Proven)
	// Output: 23 bars do, 22 do not; proven: true
}
