package protect_test

import (
	"fmt"

	"sixteen/protect"
)

// A half mask with factor 10 and a limit of 50 ppm may be used up to 500 ppm, unless the air is dangerous at once before.
func ExampleMaximumUse() {
	fmt.Println(protect.MaximumUse(10, 50, 0, 0), protect.MaximumUse(10, 50, 300, 0), protect.MaximumUse(50, 50, 0, 1000))
	// Output: 500 300 1000
}

// The service life OSHA publishes for 200 ppm of m-xylene is 321 minutes; ours comes within 2 %.
func ExampleBed_Breakthrough() {
	xylene := protect.Vapour{MolarMassGMol: 106.17, DensityGCM3: 0.864, RefractiveIndex: 1.4972, PressurePa: 941}
	t, err := protect.ReferenceBed().Breakthrough(xylene, 200, 0.1)
	fmt.Printf("%.0f min, %v\n", t, err)
	// Output: 323 min, <nil>
}

func ExampleLevel() {
	fmt.Println(protect.Level(25), protect.Level(500))
	// Output: 1 6
}
