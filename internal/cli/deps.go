package cli

import _ "github.com/fsnotify/fsnotify" // until watch.go uses it
