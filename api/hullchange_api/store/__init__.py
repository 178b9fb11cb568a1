"""The data folder: refits, history, reviews, attachments, archives."""
