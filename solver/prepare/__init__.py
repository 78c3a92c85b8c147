"""From a job to one instance a material: what is placed, and what a part lacks that lies."""
