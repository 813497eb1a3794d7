package ferrule.web;

import ferrule.site.Site;
import java.util.List;
import java.util.Optional;

/** The sites that a server shows. There may be more each time it asks. */
public interface Sites {

  /** Every site, the first one first. Asked for each page, so it may be some seconds old. */
  List<Site> all();

  /** The site of this name, opened as needed; empty if there is none. Takes any text that a browser sends. */
  Optional<Hosted> open(String name);

  /** A single site that needs no name. */
  static Sites only(Hosted hosted) {
    return new Sites() {
      @Override
      public List<Site> all() {
        return List.of(hosted.site());
      }

      @Override
      public Optional<Hosted> open(String name) {
        return Optional.of(hosted).filter(h -> h.site().name().equals(name));
      }
    };
  }
}
