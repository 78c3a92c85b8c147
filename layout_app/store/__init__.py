"""Files on disk: the project file and ``plan.json``, read with care and saved in one piece."""
