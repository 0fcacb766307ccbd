package sheet

import "fmt"

// stateNames are the states as words in files.
var stateNames = [...]string{NotStated: "not_stated", Stated: "stated", NoData: "no_data", NotApplicable: "not_applicable", NoneStated: "none_stated"}

// String is the state's word.
func (s State) String() string {
	if int(s) < len(stateNames) {
		return stateNames[s]
	}
	return fmt.Sprintf("State(%d)", uint8(s))
}

// MarshalText writes the state's word.
func (s State) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads the state's word.
func (s *State) UnmarshalText(text []byte) error {
	for i, n := range stateNames {
		if n == string(text) {
			*s = State(i)
			return nil
		}
	}
	return fmt.Errorf("no state is called %q: write not_stated, stated, no_data, not_applicable or none_stated", text)
}
