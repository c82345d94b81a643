package main

import "golang.org/x/sys/windows"

// systemHints are for errors that the system has numbers of its own for.
var systemHints = []kindHint{
	{windows.ERROR_DISK_FULL, diskFull},
	{windows.ERROR_HANDLE_DISK_FULL, diskFull},
	{windows.ERROR_WRITE_PROTECT, readOnly},
	{windows.ERROR_FILENAME_EXCED_RANGE, tooLong},
	{windows.ERROR_INVALID_NAME, "a name cannot be like that there: give it another"},
	{windows.ERROR_SHARING_VIOLATION, "another program has it open: close it there, or name another place"},
}
