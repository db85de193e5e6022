"""Every sentence we say. HTML as Telegram takes it: whatever a person wrote is escaped before it stands in one."""
