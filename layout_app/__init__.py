"""What the maker sees and touches: window, command line, files on disk, paper."""
