package size

func (s *sizer) faults() {}
