package ferrule.app;

import java.nio.file.Path;
import java.time.LocalTime;
import java.util.Optional;
import picocli.CommandLine.Option;

/** The options that say when the server makes backups by itself. */
final class BackupOptions {

  @Option(
      names = "--backup-at",
      paramLabel = "HH:MM",
      defaultValue = "${env:FERRULE_BACKUP_AT}",
      description = "Make a backup every day at this time of the school's zone, such as 02:30 (FERRULE_BACKUP_AT; default: "
          + "none).")
  private LocalTime at;

  @Option(
      names = "--backup-dir",
      paramLabel = "DIR",
      defaultValue = "${env:FERRULE_BACKUP_DIR}",
      description = "Folder for those backups, best on another disk (FERRULE_BACKUP_DIR; default: backups below the data).")
  private Path folder;

  @Option(
      names = "--backup-keep",
      paramLabel = "N",
      defaultValue = "${env:FERRULE_BACKUP_KEEP:-14}",
      description = "How many of them to keep (FERRULE_BACKUP_KEEP; default: ${DEFAULT-VALUE}).")
  private int keep;

  Optional<LocalTime> at() {
    return Optional.ofNullable(at);
  }

  Path folder(Path data) {
    return folder == null || folder.toString().isBlank() ? data.resolve("backups") : folder;
  }

  /** How many to keep, at least one. */
  int keep() {
    return Math.max(1, keep);
  }
}
