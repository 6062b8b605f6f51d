"""What strangers, disks and chance do to the program: each runs by name, with a seed."""
