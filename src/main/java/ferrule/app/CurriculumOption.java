package ferrule.app;

import ferrule.curriculum.Curriculum;
import java.nio.file.Path;
import picocli.CommandLine.Option;

/** The option that names another curriculum than the one the program carries. */
final class CurriculumOption {

  @Option(
      names = "--curriculum",
      paramLabel = "DIR",
      defaultValue = "${env:FERRULE_CURRICULUM}",
      description = "A curriculum folder in place of the one that the program carries (FERRULE_CURRICULUM).")
  private Path folder;

  /** The curriculum to use. */
  Curriculum open() {
    boolean own = folder == null || folder.toString().isBlank();
    return own ? Curriculum.bundled() : Curriculum.of(folder);
  }
}
