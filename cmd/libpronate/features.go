package main

// #include "door.h"
import "C"

import "github.com/pronate/pronate/internal/engine"

//export pronate_go_features
func pronate_go_features() C.uint32_t { return C.uint32_t(engine.Features()) }
