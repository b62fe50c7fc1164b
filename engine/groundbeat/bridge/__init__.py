"""The one door to a page: questions, views, and `answer`."""
