package main

// peers is every program beside this process; a new one is an entry here and
// its source in bench/peers.
var peers = []peer{
	cpp("the machine's bound", "g++", "bound"),
	cpp("Eigen", "g++ and Eigen", "eigen", "-I/usr/include/eigen3", "-include", "Eigen/Geometry"),
	cpp("Eigen, -ffast-math", "g++ and Eigen", "eigen", "-I/usr/include/eigen3", "-include", "Eigen/Geometry", "-ffast-math"),
	cpp("GLM", "g++ and GLM", "glm", "-include", "glm/glm.hpp"),
	{
		name: "pronate, C", needs: "g++",
		probe: []string{"g++", "--version"},
		build: [][]string{
			{"go", "build", "-C", "{root}",
				"-buildmode=c-archive", "-o", "{here}/libpronate.a", "./cmd/libpronate"},
			{"g++", "-std=c++17", "-O3", "-march=native", "-I", "{root}/cmd/libpronate", "-o", "pronate-c", "pronate.cpp", "libpronate.a", "-pthread"},
		},
		run: []string{"./pronate-c"},
	},
	{
		name: "pronate, WebAssembly", needs: "node",
		probe: []string{"node", "--version"},
		build: [][]string{
			{"cp", "-r", "{root}/cmd/libpronate/js", "pronate"},
			{"env", "GOOS=wasip1", "GOARCH=wasm", "CGO_ENABLED=0", "go", "build", "-C", "{root}",
				"-buildmode=c-shared", "-ldflags=-s -w", "-o", "{here}/pronate/pronate.wasm", "./cmd/libpronate"},
		},
		run: []string{"node", "pronate.mjs"},
	},
	node("three", "three"),
	node("gl-matrix", "glmatrix"),
	{
		name:  "numpy and scipy",
		needs: "/usr/bin/python3 with numpy and scipy",
		probe: []string{"/usr/bin/python3", "-c", "import numpy, scipy.spatial.transform"},
		run:   []string{"/usr/bin/python3", "arrays.py"},
	},
}

// cpp is a peer in C++; the flags must find its library.
func cpp(name, needs, source string, flags ...string) peer {
	compiler := append([]string{"g++", "-std=c++17", "-O3", "-march=native"}, flags...)
	with := func(more ...string) []string { return append(compiler[:len(compiler):len(compiler)], more...) }
	return peer{
		name: name, needs: needs,
		probe: with("-fsyntax-only", "-x", "c++", "/dev/null"),
		build: [][]string{with("-o", name, source+".cpp")},
		run:   []string{"./" + name},
	}
}

// node is a peer under node, with the packages of bench/peers/package.json.
func node(name, source string) peer {
	return peer{
		name: name, needs: "node and npm",
		probe: []string{"npm", "--version"},
		build: [][]string{{"npm", "ci", "--no-audit", "--no-fund", "--ignore-scripts"}},
		run:   []string{"node", source + ".mjs"},
	}
}
