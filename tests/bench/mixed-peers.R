# usage: Rscript mixed-peers.R nlme|lme|lmer FILE REPS -> one JSON line
# Times general-purpose software on the same file; reading it is not counted.
a <- commandArgs(TRUE)
task <- a[1]
d <- read.csv(a[2])
d$id <- factor(d$id)
reps <- as.integer(a[3])
suppressMessages(library(if (task == "lmer") "lme4" else "nlme", character.only = TRUE))
fit <- switch(task,
  nlme = function() nlme(y ~ SSlogis(t, Asym, xmid, scal), d, fixed = Asym + xmid + scal ~ 1,
    random = Asym + xmid ~ 1 | id, start = c(Asym = 950, xmid = 20, scal = 7)),
  lme = function() lme(y ~ t * season, random = ~ t | id, d),
  lmer = function() suppressWarnings(lmer(y ~ t * season + (t | id), d)))
times <- numeric(reps)
for (i in seq_len(reps)) {
  invisible(gc())
  times[i] <- system.time(m <- fit())[["elapsed"]]
}
cat(sprintf('{"times":[%s],"logLik":%.10g}\n',
  paste(sprintf("%.4f", times), collapse = ","), c(logLik(m))))
