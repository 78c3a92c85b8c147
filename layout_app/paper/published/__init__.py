"""What a plan says to another maker, and how it is written: as Markdown and as one page of HTML."""
