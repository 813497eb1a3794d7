package ferrule.app;

import ferrule.report.bundle.LongWorker;
import ferrule.upkeep.TurnStore;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.util.Optional;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Makes a backup every day at a time of the school's, rehearses its restore, and removes old ones. */
final class BackupKeeping implements Crew.Hand {

  /** By looking at the clock, not by waiting: a clock that is set or a machine that slept moves the hour. */
  static final Duration EVERY = Duration.ofMinutes(1);

  private static final Logger LOG = LoggerFactory.getLogger(BackupKeeping.class);

  private final Backups backups;
  private final TurnStore turns;
  private final Path folder;
  private final int keep;
  private final LocalTime at;
  private final Clock clock;
  private final ZoneId zone;
  private Instant next;

  BackupKeeping(Backups backups, TurnStore turns, Path folder, int keep, LocalTime at, Clock clock, ZoneId zone) {
    this.backups = backups;
    this.turns = turns;
    this.folder = folder.toAbsolutePath();
    this.keep = keep;
    this.at = at;
    this.clock = clock;
    this.zone = zone;
    this.next = after(clock.instant());
  }

  @Override
  public Duration work(LongWorker.Told told) {
    look();
    return EVERY;
  }

  private Instant after(Instant moment) {
    ZonedDateTime today = moment.atZone(zone).with(at);
    return (today.toInstant().isAfter(moment) ? today : today.plusDays(1)).toInstant();
  }

  /** Makes the backup if it is due and no other node has taken it. */
  void look() {
    Instant now = clock.instant();
    if (now.isBefore(next)) {
      return;
    }
    Instant due = next;
    next = after(now);
    try {
      if (turns.take(due, now)) {
        make(due);
      }
    } catch (RuntimeException e) {
      LOG.error("the backup that was due at {} was not made", due, e);
    }
  }

  private void make(Instant due) {
    try {
      String made = backups.make(folder.resolve(BackupCommand.fileName(clock)), true);
      Backups.keepLatest(folder, keep);
      turns.done(due, Optional.of(clock.instant()), made);
      LOG.info("backup: {}", made);
    } catch (IOException | RuntimeException e) {
      LOG.error("the backup that was due at {} was not made", due, e);
      turns.done(due, Optional.empty(), "not made: " + e.getMessage());
    }
  }
}
