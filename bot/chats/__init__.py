"""Conversations: one small file each. A turn takes what came in and says what goes out, inside one transaction."""
