"""The stations, in the order of the job; one file each."""
