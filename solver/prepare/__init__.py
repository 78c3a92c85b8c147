"""From a job to one instance a material, and what a part lacks that lies nowhere."""
