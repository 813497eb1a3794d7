package ferrule.app;

import ferrule.competency.AsOf;
import java.time.Clock;
import java.time.DateTimeException;
import java.util.Optional;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;

/** The option that says at the end of which day a report is meant. */
final class AsOfOption {

  @Option(
      names = "--as-of",
      paramLabel = "DATE",
      description = "As it stood at the end of this day, such as 2026-11-01; today if absent.")
  private String day;

  /** The moment that is meant; a {@link ParameterException} with a sentence if it is no day, or there is no such zone. */
  AsOf moment(CommandSpec spec, RecordsOptions records) {
    try {
      return AsOf.parse(Optional.ofNullable(day), Clock.systemUTC(), records.zone());
    } catch (IllegalArgumentException | DateTimeException e) {
      throw new ParameterException(spec.commandLine(), e.getMessage());
    }
  }
}
