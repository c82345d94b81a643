//go:build !linux

package journal

import "errors"

func mountSmall(string) error { return errors.ErrUnsupported }

func unmount(string) error { return nil }
